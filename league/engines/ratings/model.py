"""What a rating is made from and what it consists of. Ids are the caller's own strings; all values are frozen."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class BadGames(ValueError):
    """The games cannot be rated. `violations` has every reason, each a sentence."""

    def __init__(self, violations: Sequence[str]) -> None:
        self.violations: tuple[str, ...] = tuple(violations)
        super().__init__(" ".join(self.violations))


@dataclass(frozen=True, kw_only=True, slots=True)
class Parameters:
    """What Glicko-2 starts from. `rating`, `deviation` and `volatility` are a newcomer's; `tau` holds the volatility
    back (0.3 to 1.2 are sensible); `epsilon` is how exactly the volatility is solved for.

    The defaults are those of M. E. Glickman, "Example of the Glicko-2 system" (2013). No deviation ever grows beyond a
    newcomer's: his first Glicko paper says so, the later one is silent.
    """

    rating: float = 1500.0
    deviation: float = 350.0
    volatility: float = 0.06
    tau: float = 0.5
    epsilon: float = 1e-6


@dataclass(frozen=True, kw_only=True, slots=True)
class RatedGame:
    """One game of one against one. `score_x2` is the first's: 2 for a win, 1 for a draw, 0 for a loss.

    `period` is the rating period, a whole number; periods follow each other without gaps (months: year * 12 + month).
    """

    id: str
    period: int
    first: str
    second: str
    score_x2: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Rating:
    """What is known of a player: `rating`, its standard `deviation`, and the `volatility` of the strength itself."""

    rating: float
    deviation: float
    volatility: float = 0.06

    @property
    def interval(self) -> tuple[float, float]:
        """Where the strength lies with 95 % confidence: two deviations either way, as Glickman has it."""
        return self.rating - 2 * self.deviation, self.rating + 2 * self.deviation


@dataclass(frozen=True, kw_only=True, slots=True)
class CurvePoint:
    """A player's rating at the end of `period`, in which they played `games`."""

    period: int
    rating: Rating
    games: int


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class State:
    """Everybody's rating at the end of `period`: one entry per player in each array, players in order of their ids.

    Players are known from the first period in which they played. `games` counts those of this period. The forecasts
    made for its games are kept beside it: what was expected of the first (0 to 1) before the period, and what the
    first scored (0, 0.5, 1), in order of `game_ids`.
    """

    period: int
    players: tuple[str, ...]
    rating: Floats
    deviation: Floats
    volatility: Floats
    games: Ints
    game_ids: tuple[str, ...]
    expected: Floats
    score: Floats

    def of(self, player: str) -> Rating | None:
        """A player's rating, None for one who has not played."""
        place = self._place(player)
        return None if place is None else self._at(place)

    def point(self, player: str) -> CurvePoint | None:
        """A player's place on the curve, None for one who has not played."""
        place = self._place(player)
        if place is None:
            return None
        return CurvePoint(period=self.period, rating=self._at(place), games=int(self.games[place]))

    def _place(self, player: str) -> int | None:
        place = bisect_left(self.players, player)
        return place if place < len(self.players) and self.players[place] == player else None

    def _at(self, place: int) -> Rating:
        return Rating(
            rating=float(self.rating[place]),
            deviation=float(self.deviation[place]),
            volatility=float(self.volatility[place]),
        )


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Forecasts:
    """What was expected of the first of each game, before it was played, and what came of it; both 0 to 1."""

    game_ids: tuple[str, ...]
    expected: Floats
    score: Floats


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class History:
    """The state after each period, one after the other without gaps. `start` is what the first was counted from."""

    parameters: Parameters
    states: tuple[State, ...]
    start: State | None = None

    @property
    def last(self) -> State | None:
        """The ratings of today, None before the first game."""
        return self.states[-1] if self.states else self.start

    def after(self, period: int) -> State | None:
        """The ratings at the end of `period`: those of the last period up to it, None before the first game."""
        if not self.states or period < self.states[0].period:
            return self.start if self.start is not None and self.start.period <= period else None
        return self.states[min(period - self.states[0].period, len(self.states) - 1)]

    def curve(self, player: str) -> tuple[CurvePoint, ...]:
        """A player's rating after each period from their first on."""
        points = (state.point(player) for state in self.states)
        return tuple(point for point in points if point is not None)

    def forecasts(self) -> Forecasts:
        """Every game's forecast, in order of period and game id."""
        none = np.zeros(0)
        return Forecasts(
            game_ids=tuple(game_id for state in self.states for game_id in state.game_ids),
            expected=np.concatenate([none, *(state.expected for state in self.states)]),
            score=np.concatenate([none, *(state.score for state in self.states)]),
        )
