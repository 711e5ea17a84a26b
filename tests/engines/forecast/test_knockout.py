"""The chances in a knock-out against every way it can end, counted out one by one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.forecast import even_odds, knockout_odds
from league.engines.pairing import Bracket, draw_bracket, fixtures_of, places_of

STRENGTHS = (5, 3, 8, 1, 4, 2, 7)


def expected(one: str, other: str) -> float:
    """The stronger the likelier, each by its share of both."""
    mine, theirs = (STRENGTHS[int(each[1:])] for each in (one, other))
    return mine / (mine + theirs)


def ends(bracket: Bracket, winners: Mapping[str, str]) -> Iterator[tuple[dict[str, str], float]]:
    """Every way the matches still open can end, with its probability."""
    open_now = next((each for each in fixtures_of(bracket, winners) if each.can_be_played), None)
    if open_now is None:
        yield dict(winners), 1.0
        return
    one, other = open_now.sides
    assert one and other
    for winner, chance in ((one, expected(one, other)), (other, expected(other, one))):
        for end, rest in ends(bracket, {**winners, open_now.match.id: winner}):
            yield end, chance * rest


def counted(bracket: Bracket, winners: Mapping[str, str]) -> dict[tuple[str, int], float]:
    """The chance of each entrant and place, 1 the first; those who share places have even parts of them."""
    found: defaultdict[tuple[str, int], float] = defaultdict(float)
    for end, chance in ends(bracket, winners):
        for place, those in places_of(bracket, end):
            for each in those:
                for shared in range(place, place + len(those)):
                    found[each, shared] += chance / len(those)
    return found


@st.composite
def brackets(draw: st.DrawFn) -> tuple[list[str], Bracket, dict[str, str]]:
    """Two to seven entrants, with some of the first matches played."""
    ids = [f"e{number}" for number in range(draw(st.integers(2, len(STRENGTHS))))]
    bracket = draw_bracket(ids, third_place=draw(st.booleans()))
    winners: dict[str, str] = {}
    for _match in range(draw(st.integers(0, len(bracket.matches)))):
        open_now = [each for each in fixtures_of(bracket, winners) if each.can_be_played]
        if open_now:
            chosen = draw(st.sampled_from(open_now))
            winners[chosen.match.id] = draw(st.sampled_from([side for side in chosen.sides if side]))
    return ids, bracket, winners


@settings(deadline=None)
@given(brackets())
def test_the_chances_are_those_of_every_way_it_can_end(case):
    ids, bracket, winners = case
    told = knockout_odds(fixtures_of(bracket, winners), ids, expected=expected)
    truth = counted(bracket, winners)
    for number, each in enumerate(ids):
        for place in range(len(ids)):
            assert told.places[number, place] == pytest.approx(truth.get((each, place + 1), 0), abs=1e-12)


@settings(deadline=None)
@given(brackets(), st.integers(1, 4))
def test_who_is_through_or_out_is_so_in_every_way_it_can_end(case, places):
    ids, bracket, winners = case
    told = knockout_odds(fixtures_of(bracket, winners), ids, expected=expected)
    reached: defaultdict[str, set[bool]] = defaultdict(set)
    for end, _chance in ends(bracket, winners):
        for place, those in places_of(bracket, end):
            for each in those:
                reached[each] |= {shared <= places for shared in range(place, place + len(those))}
    for number, each in enumerate(ids):
        assert told.is_through(number, places) == (reached[each] == {True})
        assert told.is_out(number, places) == (reached[each] == {False})


@pytest.mark.parametrize("entrants", [2, 4, 8, 16])
def test_among_equals_everybody_wins_as_often(entrants):
    ids = [f"e{number}" for number in range(entrants)]
    told = knockout_odds(fixtures_of(draw_bracket(ids), {}), ids, expected=even_odds)
    assert told.top(1).tolist() == pytest.approx([1 / entrants] * entrants)


def test_a_bye_among_equals_is_worth_a_match():
    """Of three, the one with the bye needs one win, the others two."""
    ids = ["e0", "e1", "e2"]
    told = knockout_odds(fixtures_of(draw_bracket(ids), {}), ids, expected=even_odds)
    assert told.top(1).tolist() == pytest.approx([1 / 2, 1 / 4, 1 / 4])


def test_who_has_left_goes_out_in_the_next_match():
    ids = ["e0", "e1", "e2", "e3"]
    told = knockout_odds(fixtures_of(draw_bracket(ids), {}), ids, expected=even_odds, gone={"e0"})
    assert told.top(1).tolist() == pytest.approx([0, 1 / 4, 1 / 4, 1 / 2])
    assert told.is_out(0, 2)
    assert told.is_through(3, 2)


def test_where_two_who_left_meet_the_next_opponent_goes_on():
    ids = ["e0", "e1", "e2", "e3"]
    told = knockout_odds(fixtures_of(draw_bracket(ids), {}), ids, expected=even_odds, gone={"e0", "e3"})
    assert told.top(1).tolist() == pytest.approx([0, 1 / 2, 1 / 2, 0])
