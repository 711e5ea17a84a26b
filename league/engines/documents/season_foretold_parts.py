"""How the forecast of a season looks, whatever its format."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from league.engines.forecast import Chance, Fixture, Verdict

__all__ = ["Aim", "Foretold", "GoalName"]

GoalName = Literal["title", "final", "semi_final", "promotion", "staying_up"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Aim:
    """One thing to play for: to finish among the first `places`. `chances` and `verdicts` are in the order of the
    forecast's ids."""

    name: GoalName
    places: int
    chances: tuple[Chance, ...]
    verdicts: tuple[Verdict, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Foretold:
    """A forecast, plain enough to be kept. Entrants are in order of today's table; `places[i][j]` is the chance of
    entrant i to finish in place j, counted from 0, and `errors` has its standard error.

    `seasons` were drawn, 0: every possible season was counted. `fixtures` are the open games, without byes. In a
    knock-out the entrants are those of the bracket, who is still in it first, and those who go out in one round have
    even shares of its places.
    """

    division: str
    ids: tuple[str, ...]
    points_x2: tuple[int, ...]
    fixtures: tuple[Fixture, ...]
    rounds_to_draw: int
    seasons: int
    places: tuple[tuple[float, ...], ...]
    errors: tuple[tuple[float, ...], ...]
    aims: tuple[Aim, ...]
    is_knockout: bool = False

    @property
    def is_over(self) -> bool:
        return not self.fixtures and not self.rounds_to_draw

    @property
    def largest_error(self) -> float:
        """The largest standard error of any chance."""
        return max((error for row in self.errors for error in row), default=0.0)
