"""Buying against every purchase there is, and against counting pieces one by one."""

from __future__ import annotations

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.kit.buy import buy
from league.engines.kit.needs import Asked
from league.engines.kit.offers import Offer
from tests.engines.kit.market import IMPORTANCES, asked, left, markets, offer, packs


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


def least_by_counting(count: int, offers: list[Offer], budget: int | None) -> tuple[int, int, int]:
    """Pieces missing, pence and packs for one need, by dynamic programming over the pieces had, in whole numbers only."""
    best: dict[int, tuple[int, int]] = {0: (0, 0)}
    for each in offers:
        limit = -(-count // each.pieces) if each.most is None else each.most
        for had, (pence, number) in list(best.items()):
            for taken in range(1, limit + 1):
                pieces = min(count, had + taken * each.pieces)
                tried = (pence + taken * each.price_pence, number + taken)
                best[pieces] = min(tried, best.get(pieces, tried))
    return min(
        (count - pieces, pence, number) for pieces, (pence, number) in best.items() if budget is None or pence <= budget
    )


@settings(deadline=None, max_examples=100)
@given(
    st.integers(1, 120),
    st.lists(
        st.tuples(st.integers(1, 60), st.integers(0, 9_999_999), st.none() | st.integers(0, 4)), min_size=1, max_size=8
    ),
    st.none() | st.integers(0, 40_000_000),
)
def test_large_markets_and_dear_packs_are_exact_to_the_penny(count, sold, budget):
    offers = [offer(f"o{at}", size, price, most=most) for at, (size, price, most) in enumerate(sold)]
    purchase = buy([(asked("markers"), count)], offers, budget_pence=budget)
    found = (left(purchase).get("markers", 0), purchase.cost_pence, sum(packs(purchase).values()))
    assert found == least_by_counting(count, offers, budget)
    assert purchase.proven
