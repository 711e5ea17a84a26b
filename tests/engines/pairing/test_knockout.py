"""Knock-out and the group stage before it."""

from __future__ import annotations

import random
from itertools import chain

import pytest

from league.engines.pairing import BadRound, draw_bracket, fixtures_of, places_of, seeds_from_groups, snake_groups


def ids(number: int) -> list[str]:
    """s1 is the strongest."""
    return [f"s{each}" for each in range(1, number + 1)]


def played(bracket, better=lambda one, other: min(one, other, key=lambda each: int(each[1:]))):
    """All results, the better seed winning unless told otherwise."""
    winners: dict[str, str] = {}
    while open_ := [each for each in fixtures_of(bracket, winners) if each.can_be_played]:
        winners |= {each.match.id: better(*each.sides) for each in open_}
    return winners


def sides(bracket, round_number, winners=None):
    return [each.sides for each in fixtures_of(bracket, winners or {}) if each.match.round == round_number]


def test_the_first_round_of_eight_is_seeded():
    """Common practice, no source."""
    assert sides(draw_bracket(ids(8)), 1) == [("s1", "s8"), ("s4", "s5"), ("s2", "s7"), ("s3", "s6")]


@pytest.mark.parametrize("number", [2, 3, 5, 8, 11, 16, 33])
def test_if_the_better_seed_always_wins_the_seeds_meet_as_late_as_can_be(number):
    bracket = draw_bracket(ids(number))
    winners = played(bracket)
    for round_number in range(1, bracket.rounds + 1):
        left = 2 ** (bracket.rounds - round_number + 1)
        there = {each for each in chain.from_iterable(sides(bracket, round_number, winners)) if each}
        assert there == set(ids(min(left, number)))


@pytest.mark.parametrize(("number", "byes"), [(3, 1), (5, 3), (6, 2), (7, 1), (8, 0), (12, 4)])
def test_the_top_seeds_have_the_byes(number, byes):
    first = [each for each in fixtures_of(draw_bracket(ids(number)), {}) if each.match.round == 1]
    assert {each.winner for each in first if each.walkover} == set(ids(byes))


def test_the_losers_of_the_semi_finals_play_for_third_place():
    bracket = draw_bracket(ids(8), third_place=True)
    assert places_of(bracket, played(bracket))[:4] == ((1, ("s1",)), (2, ("s2",)), (3, ("s3",)), (4, ("s4",)))


def test_without_that_match_both_are_third():
    bracket = draw_bracket(ids(4))
    assert places_of(bracket, played(bracket)) == ((1, ("s1",)), (2, ("s2",)), (3, ("s4", "s3")))


def test_the_losers_of_a_round_share_a_place():
    bracket = draw_bracket(ids(8))
    assert places_of(bracket, played(bracket))[-1] == (5, ("s8", "s5", "s7", "s6"))


@pytest.mark.parametrize("number", range(2, 20))
def test_whoever_wins_everybody_but_one_loses_once(number):
    dice = random.Random(number)
    bracket = draw_bracket(ids(number))
    winners = played(bracket, better=lambda *two: dice.choice(two))
    assert len(winners) == number - 1
    assert sorted(chain.from_iterable(each for _, each in places_of(bracket, winners))) == sorted(ids(number))


def test_where_both_stay_away_the_next_opponent_goes_on():
    bracket = draw_bracket(ids(4), third_place=True)
    winners = {"1-1": "", "1-2": "s3"}
    final = next(each for each in fixtures_of(bracket, winners) if each.match.id == "2-1")
    assert (final.sides, final.winner, final.walkover) == (("", "s3"), "s3", True)
    assert places_of(bracket, winners) == ((1, ("s3",)), (3, ("s2",)))


def test_of_three_the_loser_of_the_only_semi_final_is_third():
    bracket = draw_bracket(ids(3), third_place=True)
    assert places_of(bracket, {"1-2": "s2", "2-1": "s1"}) == ((1, ("s1",)), (2, ("s2",)), (3, ("s3",)))


def test_every_wrong_result_is_named():
    with pytest.raises(BadRound) as refused:
        fixtures_of(draw_bracket(ids(6)), {"9-9": "s1", "1-2": "s1", "1-1": "s5", "2-1": "s1"})
    assert set(refused.value.violations) == {
        "There is no match 9-9.",
        "s1 did not play match 1-2 and cannot have won it.",
        "Match 1-1 has one side at most and cannot be won by s5.",
        "Match 2-1 has a result before its entrants are known.",
    }


def test_a_bracket_wants_two_and_each_once():
    with pytest.raises(BadRound, match="two entrants, not 1"):
        draw_bracket(["a"])
    with pytest.raises(BadRound, match="a is seeded twice"):
        draw_bracket(["a", "b", "a"])


def test_the_snake_goes_forwards_and_back():
    """Common practice, no source."""
    assert snake_groups(ids(10), 4) == (("s1", "s8", "s9"), ("s2", "s7", "s10"), ("s3", "s6"), ("s4", "s5"))


@pytest.mark.parametrize(("groups", "through"), [(2, 2), (3, 2), (4, 2), (4, 1), (5, 2), (6, 3), (8, 2), (2, 4)])
def test_nobody_meets_their_own_group_in_the_first_round(groups, through):
    tables = [[f"{place}{chr(65 + group)}" for place in range(4)] for group in range(groups)]
    seeded = seeds_from_groups(tables, through=through)
    assert sorted(seeded) == sorted(each for table in tables for each in table[:through])
    pairs = [pair for pair in sides(draw_bracket(seeded), 1) if all(pair)]
    assert all(one[1] != other[1] for one, other in pairs)


def test_winners_of_groups_are_seeded_first():
    tables = [["A1", "A2"], ["B1", "B2"], ["C1", "C2"]]
    assert seeds_from_groups(tables, through=2)[:3] == ("A1", "B1", "C1")


def test_a_group_of_two_sends_no_third():
    with pytest.raises(BadRound, match="Group 2 has fewer than 3"):
        seeds_from_groups([["a", "b", "c"], ["d", "e"]], through=3)


def test_three_cannot_make_four_groups():
    with pytest.raises(BadRound, match="3 entrants cannot be put into 4 groups"):
        snake_groups(ids(3), 4)
