"""Who is through and how likely it is, against all that can happen in small seasons, counted out one by one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from league.engines.forecast import exact_odds, odds, prospects
from league.engines.forecast.model import Prospect
from tests.engines.forecast.small_seasons import (
    HALVES,
    THREE_POINTS,
    WITH_BONUSES,
    Ends,
    SmallSeason,
    drawings,
    extremes,
    places_of,
    small_seasons,
)

# A busy machine is no counter-example, so no deadline.
law = settings(deadline=None, max_examples=200)
plain = small_seasons(st.sampled_from([HALVES, THREE_POINTS]), most_games=6)
bonus = small_seasons(st.just(WITH_BONUSES), most_games=4)


def known(prospect: Prospect) -> tuple[int, int, int, int]:
    bounds = (prospect.best, prospect.best_outright, prospect.worst_if_ties_help, prospect.worst)
    assert all(each.known for each in bounds)
    best, best_outright, worst_if_ties_help, worst = (each.low for each in bounds)
    return best, best_outright, worst_if_ties_help, worst


@law
@given(season=st.one_of(plain, bonus))
def test_the_places_still_possible_are_those_of_all_that_can_happen(season: SmallSeason):
    finals = [points for points, _ in season.outcomes()]
    for prospect in prospects(season.outlook()):
        assert known(prospect) == extremes(finals, season.ids.index(prospect.entrant_id))


@law
@given(season=plain, places=st.integers(1, 4))
def test_the_verdict_is_that_of_all_that_can_happen(season: SmallSeason, places: int):
    """`inside` and `outside` without a tie-break, or only with one: which of these can happen names the verdict."""
    for prospect in prospects(season.outlook()):
        one = season.ids.index(prospect.entrant_id)
        ends = [places_of(points, one) for points, _ in season.outcomes()]
        can = {"inside" if lost <= places else "outside" if won > places else "level" for won, lost in ends}
        named = {
            frozenset({"inside"}): "through",
            frozenset({"inside", "level"}): "through_or_level",
            frozenset({"level"}): "level",
            frozenset({"level", "outside"}): "level_at_best",
            frozenset({"outside"}): "out",
        }
        assert prospect.verdict(places) == named.get(frozenset(can), "open")


@law
@given(season=plain, data=st.data())
def test_the_chances_are_those_of_all_that_can_happen(season: SmallSeason, data: st.DataObject):
    """Each end is worth the product of its games' chances; those level share their places."""
    expected = {pair: data.draw(st.sampled_from([0.5, 0.25, 0.8])) for pair in set(season.pairs)}
    draws = data.draw(st.sampled_from([0.0, 0.2]))
    outlook = season.outlook(expected=lambda a, b: expected.get((int(a[1:]), int(b[1:])), 0.5), draws=draws)
    size = len(season.points)
    ours = exact_odds(outlook)
    theirs = np.zeros((size, size))
    for points, ends in season.outcomes():
        chance = 1.0
        for pair, end in zip(season.pairs, ends, strict=True):
            drawn = 4 * expected[pair] * (1 - expected[pair]) * draws
            first_won = end[0] > end[1]
            chance *= drawn if end[0] == end[1] else abs((0 if first_won else 1) - expected[pair]) - drawn / 2
        for one in range(size):
            won, lost = places_of(points, one)
            theirs[one, won - 1 : lost] += chance / (lost - won + 1)
    for row, entrant_id in zip(ours.places, ours.ids, strict=True):
        assert row == pytest.approx(theirs[season.ids.index(entrant_id)], abs=1e-12)


@settings(deadline=None, max_examples=30)
@given(season=st.one_of(plain, bonus), seed=st.integers(0, 2**32 - 1))
def test_simulated_chances_are_the_counted_ones_within_five_of_their_errors(season: SmallSeason, seed: int):
    """Five standard errors are passed by chance once in two million numbers."""
    outlook = season.outlook()
    drawn = odds(outlook, rng=np.random.default_rng(seed), seasons=4_000)
    counted = exact_odds(outlook)
    assert np.all(np.abs(drawn.places - counted.places) <= 5 * drawn.errors + 1e-12)


@settings(deadline=None, max_examples=60)
@given(
    ends=st.sampled_from([HALVES, THREE_POINTS]),
    points=st.lists(st.integers(0, 8), min_size=6, max_size=6),
    pairs=st.lists(st.sampled_from(list(combinations(range(6), 2))), min_size=8, max_size=9),
)
def test_in_a_tight_season_of_six_the_places_are_those_of_all_that_can_happen(ends, points, pairs):
    """Everybody within a few games of everybody, up to 19,683 seasons each: here points must really be divided."""
    season = SmallSeason(points=tuple(points), pairs=tuple(pairs), ends=ends)
    finals = np.array(points, dtype=np.int64)[:, None]
    for first, second in pairs:
        finals = np.concatenate([finals + gain(6, {first: a, second: b}) for a, b in ends], axis=1)
    for prospect in prospects(season.outlook()):
        one = season.ids.index(prospect.entrant_id)
        above = np.sum(finals > finals[one], axis=0) + 1
        above_or_level = np.sum(finals >= finals[one], axis=0)
        assert known(prospect) == (above.min(), above_or_level.min(), above.max(), above_or_level.max())


def gain(size: int, gains: dict[int, int]) -> NDArray[np.int64]:
    return np.array([[gains.get(one, 0)] for one in range(size)])


@st.composite
def undrawn(draw: st.DrawFn) -> tuple[SmallSeason, int]:
    """Two rounds still to be drawn only where few enough take part to count them out."""
    season = draw(plain)
    rounds = draw(st.integers(1, 2 if len(season.points) <= 4 else 1))
    return replace(season, pairs=season.pairs[: 3 - rounds]), rounds


@settings(deadline=None, max_examples=100)
@given(case=undrawn())
def test_with_rounds_still_to_be_drawn_the_bounds_hold_all_that_can_happen(case: tuple[SmallSeason, int]):
    season, rounds = case
    finals = {tuple(points) for points, _ in season.outcomes()}
    for _ in range(rounds):
        finals = {after for points in finals for after in after_a_round(points, season.ends)}
    for prospect in prospects(season.outlook(rounds_to_draw=rounds)):
        true = extremes(list(finals), season.ids.index(prospect.entrant_id))
        bounds = (prospect.best, prospect.best_outright, prospect.worst_if_ties_help, prospect.worst)
        assert all(each.low <= place <= each.high for each, place in zip(bounds, true, strict=True))


def after_a_round(points: tuple[int, ...], ends: Ends) -> Iterator[tuple[int, ...]]:
    """Everybody's points after a round in which anybody may meet anybody; a bye is worth 1."""
    for pairs, bye in drawings(range(len(points))):
        for results in product(ends, repeat=len(pairs)):
            final = list(points)
            for (first, second), (a, b) in zip(pairs, results, strict=True):
                final[first] += a
                final[second] += b
            if bye is not None:
                final[bye] += 2
            yield tuple(final)


@settings(deadline=None, max_examples=60)
@given(season=plain)
def test_a_search_cut_short_tells_bounds_and_never_a_guess(season: SmallSeason):
    finals = [points for points, _ in season.outcomes()]
    for prospect in prospects(season.outlook(), limit=0):
        true = extremes(finals, season.ids.index(prospect.entrant_id))
        bounds = (prospect.best, prospect.best_outright, prospect.worst_if_ties_help, prospect.worst)
        assert all(each.low <= place <= each.high for each, place in zip(bounds, true, strict=True))
