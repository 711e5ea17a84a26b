"""What is asked of the reports, and how the answers look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

By = Literal["scenario", "table", "factions"]
Key = tuple[str, ...]


class BadGames(ValueError):
    """The games cannot be counted. `violations` has every reason, each a sentence."""

    def __init__(self, violations: Sequence[str]) -> None:
        self.violations: tuple[str, ...] = tuple(violations)
        super().__init__(" ".join(self.violations))


class NoFit(ValueError):
    """No finite strengths explain the games best: somebody, or some side, only won or only lost."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SidedGame:
    """One game of one against one. `first` is the attacker where the scenario has one; `score_x2` is the first's: 2
    for a win, 1 for a draw, 0 for a loss. Leave empty what is not known: such games are left out where it is asked.
    """

    id: str
    first: str
    second: str
    score_x2: int
    scenario: str = ""
    table: str = ""
    first_faction: str = ""
    second_faction: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Interval:
    """Where the true share lies with the confidence asked for, both ends 0 to 1."""

    low: float
    high: float

    def __contains__(self, share: float) -> bool:
        return self.low <= share <= self.high


@dataclass(frozen=True, kw_only=True, slots=True)
class Share:
    """How one side has fared. `key` is the scenario, the table, or two factions in order of their names; the share is
    the first side's, or the first-named faction's: wins and half the draws, over all games.
    """

    key: Key
    wins: int
    draws: int
    losses: int
    interval: Interval

    @property
    def games(self) -> int:
        return self.wins + self.draws + self.losses

    @property
    def share(self) -> float:
        return (self.wins + self.draws / 2) / self.games

    @property
    def unbalanced(self) -> bool:
        """Whether even odds can be ruled out."""
        return EVEN not in self.interval


@dataclass(frozen=True, kw_only=True, slots=True)
class Effect:
    """What one side is worth when both players are equally strong, out of `games`.

    `estimate` and its standard `error` are log odds; `share` is the expected score, 0 to 1, with its `interval`.
    """

    key: Key
    games: int
    estimate: float
    error: float
    share: float
    interval: Interval

    @property
    def unbalanced(self) -> bool:
        """Whether even odds between equals can be ruled out."""
        return EVEN not in self.interval


@dataclass(frozen=True, kw_only=True, slots=True)
class Strength:
    """A player's strength in log odds, the mean of all being 0, with its standard error."""

    player: str
    estimate: float
    error: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Fit:
    """The Bradley-Terry fit: players by strength, best first; effects by their keys.

    For factions, `side` is what being first is worth beside them.
    """

    strengths: tuple[Strength, ...]
    effects: tuple[Effect, ...]
    side: Effect | None
    log_likelihood: float


EVEN = 0.5
