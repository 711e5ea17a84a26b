"""What holds for all ratings: corrections come to the same as starting over, and order is of no account."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.ratings import BadGames, History, ManyGame, Parameters, RatedGame, rate, rate_many, rerate

# A busy machine is no counter-example, so no deadline.
law = settings(deadline=None, max_examples=100)
players = st.sampled_from("abcdef")


@st.composite
def seasons(draw: st.DrawFn) -> list[RatedGame]:
    pairs = draw(st.lists(st.tuples(players, players).filter(lambda pair: pair[0] != pair[1]), min_size=1, max_size=20))
    return [
        RatedGame(
            id=f"g{n:02}", period=draw(st.integers(1, 5)), first=a, second=b, score_x2=draw(st.sampled_from([0, 1, 2]))
        )
        for n, (a, b) in enumerate(pairs)
    ]


def numbers(history: History) -> list[object]:
    return [
        (
            state.period,
            state.players,
            state.rating.tolist(),
            state.deviation.tolist(),
            state.volatility.tolist(),
            state.games.tolist(),
            state.game_ids,
            state.expected.tolist(),
        )
        for state in history.states
    ]


@law
@given(games=seasons(), data=st.data())
def test_a_correction_comes_to_the_same_as_starting_over(games, data):
    changed = data.draw(st.sampled_from(games))
    corrected = [replace(game, score_x2=2 - game.score_x2) if game == changed else game for game in games]
    before = rate(games)
    assert numbers(rerate(before, corrected, since=changed.period)) == numbers(rate(corrected))


@law
@given(games=seasons(), stop=st.integers(1, 5))
def test_going_on_from_a_period_comes_to_the_same_as_starting_over(games, stop):
    whole = rate(games, through=5)
    half = rate(games, through=stop)
    assert numbers(rate(games, through=5, start=half.last)) == numbers(whole)[len(half.states) :]


@law
@given(games=seasons(), data=st.data())
def test_the_order_of_the_games_is_of_no_account(games, data):
    assert numbers(rate(data.draw(st.permutations(games)))) == numbers(rate(games))


@law
@given(games=seasons())
def test_nobody_is_less_known_than_a_newcomer(games):
    newcomer = Parameters(deviation=120.0)
    history = rate(games, through=400, parameters=newcomer)
    assert all(np.all(state.deviation <= newcomer.deviation) for state in history.states)


def test_a_player_has_a_point_on_the_curve_for_every_period_since_the_first_game():
    games = [
        RatedGame(id="1", period=3, first="ann", second="bob", score_x2=2),
        RatedGame(id="2", period=5, first="ann", second="cat", score_x2=2),
    ]
    history = rate(games, through=6)
    assert [(point.period, point.games) for point in history.curve("ann")] == [(3, 1), (4, 0), (5, 1), (6, 0)]
    assert [(point.period, point.games) for point in history.curve("cat")] == [(5, 1), (6, 0)]
    assert history.curve("dan") == ()


def test_history_knows_who_was_rated_when():
    history = rate([RatedGame(id="1", period=3, first="ann", second="bob", score_x2=2)], through=4)
    assert history.after(2) is None
    assert history.after(3).of("ann").rating > 1500
    assert history.after(9).period == 4
    assert history.last.of("dan") is None


def test_everything_wrong_is_said_at_once():
    games = [
        RatedGame(id="1", period=1, first="ann", second="ann", score_x2=2),
        RatedGame(id="1", period=1, first="ann", second="bob", score_x2=3),
    ]
    with pytest.raises(BadGames) as bad:
        rate(games)
    assert bad.value.violations == (
        "Game 1 is there more than once.",
        "Game 1: ann plays against themselves.",
        "Game 1: a score is 0, 1 or 2 halves, not 3.",
    )


def test_a_correction_before_the_start_of_the_history_is_refused():
    first = rate([RatedGame(id="1", period=3, first="ann", second="bob", score_x2=2)])
    later = rate([], start=first.last, through=5)
    with pytest.raises(BadGames, match="Period 3 was over"):
        rerate(later, [], since=3)


def test_skills_rated_on_from_a_game_come_to_the_same_as_starting_over():
    games = [
        ManyGame(id="1", sides=(("ann",), ("bob", "cat")), ranks=(1, 2)),
        ManyGame(id="2", sides=(("bob",), ("cat",), ("dan",)), ranks=(2, 1, 2)),
        ManyGame(id="3", sides=(("ann", "dan"), ("bob", "cat")), ranks=(2, 1)),
    ]
    whole = rate_many(games)
    assert rate_many(games[1:], start=whole.before("2")).last == whole.last
    assert [game_id for game_id, _ in whole.curve("dan")] == ["2", "3"]


def test_an_impossible_game_of_many_is_refused():
    with pytest.raises(BadGames) as bad:
        rate_many([ManyGame(id="1", sides=(("ann", "ann"),), ranks=(1, 2))])
    assert bad.value.violations == (
        "Game 1: it takes two sides or more, none of them empty.",
        "Game 1: 1 sides have 2 places.",
        "Game 1: ann plays twice.",
    )
