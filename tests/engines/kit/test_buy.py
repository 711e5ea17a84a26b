"""Buying what is missing: against published problems, against every purchase there is, and its laws."""

from __future__ import annotations

import json
import random
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.kit.buy import buy
from league.engines.kit.items import Piece
from league.engines.kit.model import Demand
from league.engines.kit.needs import Asked
from league.engines.kit.offers import Offer, OffersUnsound, Purchase
from league.engines.rulesets import Wanted

PACKS = json.loads(
    (Path(__file__).parents[2] / "reference" / "optimisation" / "packs.json").read_text(encoding="utf-8")
)
IMPORTANCES = ("needed", "wanted", "pleasant")


def asked(key: str, category: str = "marker", *, importance: str = "needed", **wanted) -> Asked:
    return Asked(
        demand=Demand(key=key, table="t1", name=key, count=0, importance=importance),  # type: ignore[arg-type]
        need=key,
        wanted=Wanted(category=category, **wanted),
    )


def offer(key: str, pieces: int, price: int, category: str = "marker", *, most: int | None = None, **piece) -> Offer:
    made = Piece(category=category, **piece)  # type: ignore[arg-type]
    return Offer(key=key, name=key, piece=made, pieces=pieces, price_pence=price, most=most)


def packs(purchase: Purchase) -> dict[str, int]:
    return {line.offer.key: line.packs for line in purchase.lines}


def left(purchase: Purchase) -> dict[str, int]:
    return {key: count for key, count, _why in purchase.left}


# --- published --------------------------------------------------------------------------


def test_a_published_knapsack_is_packed_to_its_published_worth():
    """J. Burkardt, KNAPSACK_01, problem P01, from memory and solved again: 309 is the most for 165.

    As a purchase: each thing one pack, its weight the price, its worth the pieces, the capacity the budget.
    """
    knapsack = PACKS["knapsack"]
    weighed = list(zip(knapsack["weights"], knapsack["profits"], strict=True))
    offers = [offer(f"thing {at}", worth, weight, most=1) for at, (weight, worth) in enumerate(weighed)]
    total = sum(knapsack["profits"])
    purchase = buy([(asked("worth"), total)], offers, budget_pence=knapsack["capacity"])
    assert total - left(purchase)["worth"] == knapsack["optimum"]
    assert sorted(packs(purchase)) == [f"thing {at}" for at in knapsack["chosen"]]
    assert purchase.proven


@pytest.mark.parametrize("count", [*range(1, 60)])
def test_of_packs_of_six_nine_and_twenty_forty_three_is_the_last_that_cannot_be_had_exactly(count):
    """The coin problem for 6, 9 and 20 has the Frobenius number 43 (Wikipedia, "Coin problem"; from memory)."""
    offers = [offer(str(size), size, size) for size in (6, 9, 20)]
    purchase = buy([(asked("pieces"), count)], offers)
    can = {6 * a + 9 * b + 20 * c for a, b, c in product(range(11), range(8), range(4))}
    assert (purchase.cost_pence == count) == (count in can)
    if count > 43:
        assert purchase.cost_pence == count
    if count == 43:
        assert purchase.cost_pence == 44


# --- every purchase there is ------------------------------------------------------------


@st.composite
def markets(draw: st.DrawFn) -> tuple[list[tuple[Asked, int]], list[Offer], int | None]:
    """Up to three needs of two sorts, up to four packs of them."""
    uses = ("smoke", "fire")
    missing = [
        (
            asked(f"d{at}", use=draw(st.sampled_from(uses)), importance=draw(st.sampled_from(IMPORTANCES))),
            draw(st.integers(1, 6)),
        )
        for at in range(draw(st.integers(1, 3)))
    ]
    offers = [
        offer(
            f"o{at}",
            draw(st.integers(1, 5)),
            draw(st.integers(0, 9)),
            most=draw(st.sampled_from([None, 0, 1, 2])),
            use=draw(st.sampled_from(("", *uses))),
        )
        for at in range(draw(st.integers(0, 4)))
    ]
    return missing, offers, draw(st.one_of(st.none(), st.integers(0, 25)))


def serves(each: Offer, need: Asked) -> bool:
    return each.piece.use in ("", need.wanted.use)


def worth(
    counts: tuple[int, ...], offers: list[Offer], missing: list[tuple[Asked, int]], budget: int | None
) -> tuple[int, ...] | None:
    """What a purchase leaves missing by importance, its cost and its packs; None beyond the budget. The pieces are dealt out
    by trying every way."""
    cost = sum(count * each.price_pence for count, each in zip(counts, offers, strict=True))
    if budget is not None and cost > budget:
        return None
    pools = dict.fromkeys(("", "smoke", "fire"), 0)
    for count, each in zip(counts, offers, strict=True):
        pools[each.piece.use] += count * each.pieces
    best = None
    for dealt in product(*(range(count + 1) for _need, count in missing)):
        by_use = dict.fromkeys(("smoke", "fire"), 0)
        for (need, _count), pieces in zip(missing, dealt, strict=True):
            by_use[need.wanted.use] += pieces
        if sum(max(0, pieces - pools[use]) for use, pieces in by_use.items()) <= pools[""]:
            short = [0, 0, 0]
            for (need, count), pieces in zip(missing, dealt, strict=True):
                short[IMPORTANCES.index(need.demand.importance)] += count - pieces
            best = tuple(short) if best is None else min(best, tuple(short))
    assert best is not None
    return (*best, cost, sum(counts))


@settings(deadline=None, max_examples=120)
@given(markets())
def test_no_purchase_is_better(market):
    missing, offers, budget = market
    total = sum(count for _need, count in missing)
    limits = [min(-(-total // each.pieces), total if each.most is None else each.most) for each in offers]
    found = (worth(counts, offers, missing, budget) for counts in product(*(range(most + 1) for most in limits)))
    best = min(each for each in found if each is not None)
    purchase = buy(missing, offers, budget_pence=budget)
    short = [0, 0, 0]
    for need, _count in missing:
        short[IMPORTANCES.index(need.demand.importance)] += left(purchase).get(need.demand.key, 0)
    assert (*short, purchase.cost_pence, sum(packs(purchase).values())) == best
    assert purchase.proven


# --- laws -------------------------------------------------------------------------------


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


def tools() -> st.SearchStrategy[tuple[list[tuple[Asked, int]], list[Offer], int | None]]:
    """Dice for up to three purposes of one table, and up to three packs of them."""
    needs = st.lists(st.integers(1, 6), min_size=1, max_size=3)
    packs = st.lists(st.tuples(st.integers(1, 5), st.integers(0, 9), st.integers(0, 2)), max_size=3)
    return st.builds(
        lambda counts, sold, budget: (
            [(asked(f"d{at}", "die", sides=6), count) for at, count in enumerate(counts)],
            [offer(f"o{at}", size, price, "die", most=most, sides=6) for at, (size, price, most) in enumerate(sold)],
            budget,
        ),
        needs,
        packs,
        st.one_of(st.none(), st.integers(0, 20)),
    )


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


# --- one thing at a time ----------------------------------------------------------------


def test_a_large_pack_is_bought_where_it_is_cheaper_than_enough_small_ones():
    offers = [offer("small", 10, 300), offer("large", 40, 800)]
    assert packs(buy([(asked("markers"), 25)], offers)) == {"large": 1}
    assert packs(buy([(asked("markers"), 20)], offers)) == {"small": 2}


def test_what_a_game_cannot_do_without_is_bought_first():
    offers = [offer("smoke", 1, 100, use="smoke"), offer("fire", 1, 60, use="fire")]
    missing = [(asked("pretty", use="fire", importance="pleasant"), 1), (asked("vital", use="smoke"), 1)]
    purchase = buy(missing, offers, budget_pence=120)
    assert (packs(purchase), left(purchase)) == ({"smoke": 1}, {"pretty": 1})


def test_dice_bought_meet_the_needs_of_a_side_in_turn():
    """Dice are handed about: what is rolled for one thing is rolled for the next."""
    missing = [(asked("to hit", "die", sides=6), 6), (asked("to save", "die", sides=6), 4)]
    assert packs(buy(missing, [offer("dice", 2, 100, "die", sides=6)])) == {"dice": 3}


def test_what_no_pack_serves_is_said_so():
    ((key, count, why),) = buy([(asked("mat", "mat"), 1)], [offer("markers", 10, 100)]).left
    assert (key, count, why) == ("mat", 1, "No pack that is noted would serve.")


def test_what_the_budget_does_not_reach_is_said_so():
    ((_key, count, why),) = buy([(asked("markers"), 10)], [offer("five", 5, 200)], budget_pence=350).left
    assert count == 5 and why.startswith("Within the budget")


def test_pieces_left_over_are_told():
    (line,) = buy([(asked("markers"), 7)], [offer("five", 5, 200)]).lines
    assert (line.packs, line.pieces, line.over, line.cost_pence) == (2, 10, 3, 400)
    assert line.serves == (("markers", 7),)


def test_of_two_sizes_of_one_thing_each_tells_what_it_is_for_itself():
    """50 are short: one pack of 40 and one of 10, not 50 out of each."""
    lines = buy([(asked("markers"), 50)], [offer("small", 10, 300), offer("large", 40, 800)]).lines
    assert {line.offer.key: line.serves for line in lines} == {"small": (("markers", 10),), "large": (("markers", 40),)}


def test_no_more_dice_are_told_for_a_need_than_it_asked_for():
    """Six dice serve it in turn with another need, but it asked for four."""
    missing = [(asked("to hit", "die", sides=6), 6), (asked("to save", "die", sides=6), 4)]
    (line,) = buy(missing, [offer("dice", 6, 100, "die", sides=6)]).lines
    assert line.serves == (("to hit", 6), ("to save", 4))


def test_nothing_missing_buys_nothing():
    purchase = buy([], [offer("five", 5, 200)])
    assert (purchase.lines, purchase.left, purchase.cost_pence, purchase.proven) == ((), (), 0, True)


def test_everything_wrong_with_the_offers_is_said_at_once():
    with pytest.raises(OffersUnsound) as unsound:
        buy([], [offer("a", 0, -1), offer("a", 5, 200, most=-2)], budget_pence=-5)
    assert unsound.value.faults == (
        "The pack “a” is there 2 times.",
        "The pack “a” has 0 pieces; it must be from 1 to 100000.",
        "The pack “a” costs -1 pence; it must be from 0 to 10000000.",
        "There are -2 packs “a”; it must be from 0 to 100000.",
        "The budget is -5 pence; it cannot be less than nothing.",
    )
