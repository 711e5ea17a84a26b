"""Buying against published problems of packing and of change."""

from __future__ import annotations

import json
from itertools import product
from pathlib import Path

import pytest

from league.engines.kit.buy import buy
from tests.engines.kit.market import asked, left, offer, packs

REFERENCE = Path(__file__).parents[2] / "reference" / "optimisation"
PACKS = json.loads((REFERENCE / "packs.json").read_text(encoding="utf-8"))
KNAPSACKS = json.loads((REFERENCE / "knapsacks.json").read_text(encoding="utf-8"))["knapsacks"]


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


@pytest.mark.parametrize("knapsack", KNAPSACKS, ids=[each["name"] for each in KNAPSACKS])
def test_published_knapsacks_of_one_or_a_few_of_each_thing_are_packed_to_their_worth(knapsack):
    """J. Burkardt, KNAPSACK_01, P02 to P07, from memory; Rosetta Code, Knapsack problem/0-1 and Bounded: each row says what
    is from memory. All were solved again by dynamic programming."""
    things = zip(knapsack["weights"], knapsack["profits"], knapsack["most"], strict=True)
    offers = [offer(f"thing {at}", worth, weight, most=most) for at, (weight, worth, most) in enumerate(things)]
    purchase = buy([(asked("worth"), 10_000)], offers, budget_pence=knapsack["capacity"])
    assert 10_000 - left(purchase)["worth"] == knapsack["optimum"]
    assert purchase.proven


def test_the_fewest_packs_are_bought_where_the_largest_first_would_take_more():
    """Of coins of 1, 3 and 4, two make 6; the largest first takes three (Wikipedia, "Change-making problem"; from memory)."""
    offers = [offer(str(size), size, size) for size in (1, 3, 4)]
    assert packs(buy([(asked("pieces"), 6)], offers)) == {"3": 2}


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
