"""Simulated chances: their laws, and how rounds are drawn in them."""

from __future__ import annotations

import numpy as np
import pytest

from league.engines.forecast import BadForecast, Outlook, exact_odds, odds
from league.engines.forecast.draw import paired
from tests.engines.forecast.small_seasons import HALVES, SmallSeason

QUARTET = SmallSeason(points=(4, 4, 2, 0), pairs=((0, 2), (1, 3)), ends=HALVES)


def simulated(outlook: Outlook, **options: object) -> object:
    return odds(outlook, rng=np.random.default_rng(7), seasons=20_000, **options)


def test_the_same_generator_gives_the_same_chances():
    assert np.array_equal(simulated(QUARTET.outlook()).places, simulated(QUARTET.outlook()).places)


@pytest.mark.parametrize("rounds", [0, 2])
def test_everybody_has_a_place_and_every_place_somebody(rounds):
    places = simulated(QUARTET.outlook(rounds_to_draw=rounds)).places
    assert places.sum(axis=0) == pytest.approx([1.0] * 4)
    assert places.sum(axis=1) == pytest.approx([1.0] * 4)


def test_those_level_draw_lots_or_stay_as_they_are_today():
    level = SmallSeason(points=(2, 2), pairs=(), ends=HALVES).outlook()
    by_lot = [one.chance for one in simulated(level).top(1)]
    assert by_lot == pytest.approx([0.5, 0.5], abs=0.02)
    assert [one.chance for one in exact_odds(level).top(1)] == [0.5, 0.5]
    assert [one.chance for one in simulated(level, level="today").top(1)] == [1.0, 0.0]
    assert [one.chance for one in exact_odds(level, level="today").top(1)] == [1.0, 0.0]


def test_what_never_came_up_still_has_an_error():
    chance = simulated(SmallSeason(points=(8, 0), pairs=((0, 1),), ends=HALVES).outlook()).top(1)[1]
    assert chance.chance == 0.0
    assert chance.error > 0.0


def test_the_stronger_is_likelier_to_win():
    outlook = SmallSeason(points=(0, 0), pairs=((0, 1),), ends=HALVES).outlook(expected=lambda a, b: 0.75, draws=0.0)
    assert simulated(outlook).top(1)[0].chance == pytest.approx(0.75, abs=0.02)


def test_a_round_to_be_drawn_with_two_is_a_fixture():
    """Nobody else is there to be met, so it comes to the same as the game already paired."""
    drawn = SmallSeason(points=(1, 0), pairs=(), ends=HALVES).outlook(rounds_to_draw=1)
    paired_already = SmallSeason(points=(1, 0), pairs=((0, 1),), ends=HALVES).outlook()
    found = simulated(drawn)
    assert np.all(np.abs(found.places - exact_odds(paired_already).places) <= 5 * found.errors)


def test_everybody_meets_the_nearest_they_have_not_met():
    met = np.zeros((1, 4, 4), dtype=np.bool_)
    met[0, 0, 1] = met[0, 1, 0] = True
    firsts, seconds, byes = paired(np.array([[0, 1, 2, 3]]), met, np.zeros((1, 4), dtype=np.bool_))
    assert [(int(a[0]), int(b[0])) for a, b in zip(firsts, seconds, strict=True)] == [(0, 2), (1, 3)]
    assert byes is None
    assert met[0, 0, 2] and met[0, 3, 1]


def test_the_bye_goes_to_the_lowest_who_has_had_none():
    had_bye = np.array([[False, False, True]])
    _, _, byes = paired(np.array([[0, 1, 2]]), np.zeros((1, 3, 3), dtype=np.bool_), had_bye)
    assert byes.tolist() == [1]
    assert had_bye.tolist() == [[False, True, True]]


def test_too_many_seasons_are_not_counted():
    many = SmallSeason(points=(0, 0), pairs=((0, 1),) * 20, ends=HALVES).outlook()
    with pytest.raises(BadForecast, match="too many to count"):
        exact_odds(many)


def test_undrawn_rounds_are_not_counted():
    with pytest.raises(BadForecast, match="only when every round is drawn"):
        exact_odds(QUARTET.outlook(rounds_to_draw=1))


def test_no_season_gives_no_chances():
    with pytest.raises(BadForecast, match="At least one season"):
        odds(QUARTET.outlook(), rng=np.random.default_rng(1), seasons=0)
