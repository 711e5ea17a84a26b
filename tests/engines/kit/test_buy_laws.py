"""What holds of every purchase."""

from __future__ import annotations

import random
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.kit.buy import buy
from league.engines.kit.offers import Purchase
from tests.engines.kit.market import IMPORTANCES, left, markets, tools


@settings(deadline=None, max_examples=60)
@given(markets(), st.randoms(use_true_random=False))
def test_the_order_in_which_it_is_told_changes_nothing(market, dice: random.Random):
    missing, offers, budget = market
    mixed = (dice.sample(missing, len(missing)), dice.sample(offers, len(offers)))
    assert buy(*mixed, budget_pence=budget) == buy(missing, offers, budget_pence=budget)


@settings(deadline=None, max_examples=60)
@given(markets(), st.integers(0, 20))
def test_a_penny_more_never_leaves_more_missing(market, more):
    missing, offers, budget = market
    if budget is not None:
        poor, rich = (buy(missing, offers, budget_pence=each) for each in (budget, budget + more))
        assert rich.cost_pence <= budget + more

        def short(purchase: Purchase) -> list[int]:
            told = left(purchase)
            return [
                sum(told.get(need.demand.key, 0) for need, _count in missing if need.demand.importance == importance)
                for importance in IMPORTANCES
            ]

        assert short(rich) <= short(poor)


@settings(deadline=None, max_examples=60)
@given(markets())
def test_a_cheaper_pack_never_makes_the_whole_dearer(market):
    missing, offers, _budget = market
    cheaper = [replace(each, price_pence=each.price_pence // 2) for each in offers]
    assert buy(missing, cheaper).cost_pence <= buy(missing, offers).cost_pence


@settings(deadline=None, max_examples=120)
@given(st.one_of(markets(), tools()))
def test_what_is_bought_for_a_need_and_what_it_still_lacks_are_what_it_asked_for(market):
    missing, offers, budget = market
    purchase = buy(missing, offers, budget_pence=budget)
    told = left(purchase)
    for line in purchase.lines:
        assert 0 <= line.over <= line.pieces
        assert max((count for _key, count in line.serves), default=0) <= line.pieces - line.over
        for key, count in line.serves:
            told[key] = told.get(key, 0) + count
    assert told == {need.demand.key: count for need, count in missing}
