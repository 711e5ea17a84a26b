"""From games to ratings, period by period, and again from a changed period on."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from .glicko2 import SCALE, Strengths, expectation, idle, played
from .model import BadGames, Floats, History, Ints, Parameters, RatedGame, Rating, State

DRAW_X2 = 1
WIN_X2 = 2


def rate(
    games: Sequence[RatedGame],
    *,
    through: int | None = None,
    parameters: Parameters = Parameters(),  # noqa: B008  frozen
    start: State | None = None,
) -> History:
    """The ratings after each period, to the end of period `through` (or of the last in which anybody played).

    With `start`, games up to its period are taken as counted already, and rating goes on from it. The order of the
    games is of no account. Raises BadGames with every violation.
    """
    violations = tuple(_violations(games))
    if violations:
        raise BadGames(violations)
    wanted = [
        game
        for game in games
        if (through is None or game.period <= through) and (start is None or game.period > start.period)
    ]
    # In one order whatever the caller's, so that sums are the same to the last bit.
    wanted.sort(key=lambda game: (game.period, game.id))
    return History(parameters=parameters, states=tuple(_states(wanted, through, parameters, start)), start=start)


def rerate(history: History, games: Sequence[RatedGame], *, since: int, through: int | None = None) -> History:
    """The same history with all periods from `since` on rated anew from `games`; earlier games of it are not looked at.

    The result is the same, to the last bit, as rating everything from the beginning. Raises BadGames.
    """
    kept = tuple(state for state in history.states if state.period < since)
    before = kept[-1] if kept else history.start
    if before is not None and before.period >= since:
        raise BadGames([f"Period {since} was over before this history begins."])
    redone = rate(
        [game for game in games if game.period >= since], through=through, parameters=history.parameters, start=before
    )
    return History(parameters=history.parameters, states=kept + redone.states, start=history.start)


def expected_score(first: Rating, second: Rating) -> float:
    """What the first may expect of one game against the second, 0 to 1, a draw counting half.

    The formula of M. E. Glickman, "The Glicko system", for two players with deviations.
    """
    difference = np.array([(first.rating - second.rating) / SCALE])
    uncertain = np.array([math.hypot(first.deviation, second.deviation) / SCALE])
    return float(expectation(difference, uncertain)[0])


def _violations(games: Sequence[RatedGame]) -> Iterator[str]:
    twice = [game_id for game_id, times in Counter(game.id for game in games).items() if times > 1]
    yield from (f"Game {game_id} is there more than once." for game_id in twice)
    for game in games:
        if game.first == game.second:
            yield f"Game {game.id}: {game.first} plays against themselves."
        if not 0 <= game.score_x2 <= WIN_X2:
            yield f"Game {game.id}: a score is 0, 1 or 2 halves, not {game.score_x2}."


class _Columns:
    """Games sorted by period as columns; `players` are all known ids in order, `known` those who have played."""

    def __init__(self, games: Sequence[RatedGame], start: State | None, parameters: Parameters) -> None:
        ids = {game.first for game in games} | {game.second for game in games} | set(start.players if start else ())
        self.players = sorted(ids)
        place = {player: number for number, player in enumerate(self.players)}
        self.first: Ints = np.array([place[game.first] for game in games], dtype=np.int64)
        self.second: Ints = np.array([place[game.second] for game in games], dtype=np.int64)
        self.score: Floats = np.array([game.score_x2 for game in games], dtype=np.float64) / WIN_X2
        self.period: Ints = np.array([game.period for game in games], dtype=np.int64)
        self.game_ids = [game.id for game in games]
        size = len(self.players)
        self.known = np.zeros(size, dtype=np.bool_)
        self.rating: Floats = np.full(size, parameters.rating)
        self.deviation: Floats = np.full(size, parameters.deviation)
        self.volatility: Floats = np.full(size, parameters.volatility)
        if start is not None:
            old = np.array([place[player] for player in start.players], dtype=np.int64)
            self.known[old] = True
            self.rating[old], self.deviation[old] = start.rating, start.deviation
            self.volatility[old] = start.volatility

    def state(self, period: int, games: slice, expected: Floats) -> State:
        """A copy of the present, for those who have played."""
        appeared = np.bincount(np.concatenate([self.first[games], self.second[games]]), minlength=len(self.players))
        return State(
            period=period,
            players=tuple(self.players[number] for number in np.flatnonzero(self.known)),
            rating=self.rating[self.known],
            deviation=self.deviation[self.known],
            volatility=self.volatility[self.known],
            games=appeared[self.known],
            game_ids=tuple(self.game_ids[games]),
            expected=expected,
            score=self.score[games],
        )


def _states(
    games: Sequence[RatedGame], through: int | None, parameters: Parameters, start: State | None
) -> Iterator[State]:
    if not games and (start is None or through is None):
        return
    columns = _Columns(games, start, parameters)
    first = games[0].period if start is None else start.period + 1
    last = through if through is not None else games[-1].period
    bounds = np.searchsorted(columns.period, np.arange(first, last + 2)).tolist()
    for period, (begin, end) in enumerate(pairwise(bounds), start=first):
        expected = _one_period(columns, slice(begin, end), parameters)
        yield columns.state(period, slice(begin, end), expected)


def _one_period(columns: _Columns, games: slice, parameters: Parameters) -> Floats:
    """Takes the columns through one period; returns what was expected of the first of each of its games."""
    first, second, score = columns.first[games], columns.second[games], columns.score[games]
    difference = (columns.rating[first] - columns.rating[second]) / SCALE
    expected = expectation(difference, np.hypot(columns.deviation[first], columns.deviation[second]) / SCALE)
    active = np.unique(np.concatenate([first, second]))
    new = played(
        Strengths(
            mu=(columns.rating[active] - parameters.rating) / SCALE,
            phi=columns.deviation[active] / SCALE,
            sigma=columns.volatility[active],
        ),
        np.searchsorted(active, np.concatenate([first, second])),
        np.searchsorted(active, np.concatenate([second, first])),
        np.concatenate([score, 1.0 - score]),
        tau=parameters.tau,
        epsilon=parameters.epsilon,
    )
    columns.deviation[columns.known] = SCALE * idle(
        columns.deviation[columns.known] / SCALE, columns.volatility[columns.known]
    )
    columns.rating[active] = SCALE * new.mu + parameters.rating
    columns.deviation[active], columns.volatility[active] = SCALE * new.phi, new.sigma
    np.minimum(columns.deviation, parameters.deviation, out=columns.deviation)
    columns.known[active] = True
    return expected
