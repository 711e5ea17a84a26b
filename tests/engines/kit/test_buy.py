"""Buying what is missing: one thing at a time."""

from __future__ import annotations

import pytest

from league.engines.kit.buy import buy
from league.engines.kit.offers import OffersUnsound
from tests.engines.kit.market import asked, left, offer, packs


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
