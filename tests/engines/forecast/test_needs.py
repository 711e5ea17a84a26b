"""What a player needs from the next game, on seasons small enough to work out by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.forecast import BadForecast, Condition, Needs, needs_of
from tests.engines.forecast.small_seasons import (
    HALVES,
    THREE_POINTS,
    WITH_BONUSES,
    SmallSeason,
    places_of,
    small_seasons,
)


def season(points: tuple[int, ...], *pairs: tuple[int, int], ends=THREE_POINTS) -> SmallSeason:
    """Points are whole here, and half-points within."""
    return SmallSeason(points=tuple(2 * x for x in points), pairs=pairs, ends=ends)


def verdicts(needs: Needs) -> list[tuple[str, str]]:
    return [(case.outcome, case.verdict) for case in needs.cases]


def test_a_leader_by_two_needs_a_draw_against_the_only_rival():
    """12 to 10 with three for a win: after a draw 13 to 11, after a loss 12 to 13."""
    needs = needs_of(season((12, 10), (0, 1)).outlook(), "e0", places=1)
    assert verdicts(needs) == [("win", "through"), ("draw", "through"), ("loss", "out")]
    assert needs.enough.outcome == "draw"


def test_a_draw_is_enough_if_the_rival_elsewhere_does_not_win():
    """10 each for e0 and e1, who play others: with a draw e0 has 11, which e1 passes with a win and reaches with none
    but a draw."""
    needs = needs_of(season((10, 10, 0, 0), (0, 2), (1, 3)).outlook(), "e0", places=1)
    win, draw, loss = needs.cases
    assert win.verdict == "through_or_level"
    assert win.ifs == ((Condition(fixture_id="f1", outcomes=("draw", "loss")),),)
    assert draw.verdict == "open"
    assert draw.ifs == ((Condition(fixture_id="f1", outcomes=("loss",)),),)
    assert loss.verdict == "level_at_best"
    assert loss.ifs == ((Condition(fixture_id="f1", outcomes=("loss",)),),)
    assert loss.level


def test_two_games_may_have_to_help_together():
    """e0 has finished but for a game; e1 and e2 are one win behind and must both fail to win."""
    needs = needs_of(season((10, 9, 9, 0, 0, 0), (0, 3), (1, 4), (2, 5)).outlook(), "e0", places=1)
    draw = needs.cases[1]
    assert draw.ifs == (
        (
            Condition(fixture_id="f1", outcomes=("draw", "loss")),
            Condition(fixture_id="f2", outcomes=("draw", "loss")),
        ),
    )


def test_a_win_may_have_to_be_high_enough_for_its_bonus():
    """A win is 4, by ten or more 5: with 4 from behind by 4 it is a tie, with 5 it is not."""
    needs = needs_of(season((10, 14), (0, 1), ends=WITH_BONUSES).outlook(), "e0", places=1)
    best = needs.cases[0]
    assert (best.outcome, [bonus.kind for bonus in best.bonuses], best.verdict) == ("win", ["margin"], "through")
    assert best.bonuses[0].threshold == 10
    assert needs.enough is best
    plain_win = needs.cases[1]
    assert (plain_win.bonuses, plain_win.verdict) == ((), "level_at_best")


def test_a_case_is_told_from_the_side_of_the_one_who_asks():
    needs = needs_of(season((12, 10), (0, 1)).outlook(), "e1", places=1)
    assert verdicts(needs) == [("win", "through"), ("draw", "out"), ("loss", "out")]


def test_without_a_game_left_there_is_nothing_to_need():
    assert needs_of(season((12, 10, 3), (0, 1)).outlook(), "e2", places=1) is None


def test_a_stranger_is_refused():
    with pytest.raises(BadForecast, match="ghost is not in this table"):
        needs_of(season((12, 10), (0, 1)).outlook(), "ghost", places=1)


@settings(deadline=None, max_examples=60)
@given(
    small=small_seasons(st.sampled_from([HALVES, THREE_POINTS]), most_games=5).filter(lambda one: one.pairs),
    places=st.integers(1, 3),
)
def test_what_is_promised_happens_in_every_season_that_keeps_the_conditions(small: SmallSeason, places: int):
    """Every case and every set of conditions is followed through all that can happen."""
    one = small.pairs[0][0]
    needs = needs_of(small.outlook(), f"e{one}", places=places)
    number = int(needs.fixture_id[1:])
    side = small.pairs[number].index(one)
    for case in needs.cases:
        so_far = [(points, ends) for points, ends in small.outcomes() if outcome_of(ends[number], side) == case.outcome]
        if case.verdict == "through":
            assert all(places_of(points, one)[1] <= places for points, _ in so_far)
        for conditions in case.ifs:
            kept = [
                places_of(points, one)[0 if case.level else 1]
                for points, ends in so_far
                if all(outcome_of(ends[int(each.fixture_id[1:])], 0) in each.outcomes for each in conditions)
            ]
            assert kept
            assert max(kept) <= places


def outcome_of(end: tuple[int, int], side: int) -> str:
    mine, theirs = end[side], end[1 - side]
    return "draw" if mine == theirs else "win" if mine > theirs else "loss"
