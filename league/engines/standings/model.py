"""What a season consists of, as the engine is told it: who takes part, what was played, what was taken or given.

All values are frozen; ids are the caller's own strings. Numbers are whole; nothing here is a float.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

Outcome = Literal["win", "draw", "loss"]
Unplayed = Literal["", "bye", "forfeit_win", "forfeit_loss", "absent"]

NO_COUNTS: Mapping[str, int] = MappingProxyType({})


@dataclass(frozen=True, kw_only=True, slots=True)
class Entrant:
    """One who takes part. `left`: has left the season; `Rules.leavers` says what then counts."""

    id: str
    name: str = ""
    left: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Side:
    """One entrant's part in one game.

    `score` is the game's own score (any whole number). `outcome` may be left out when every side of the game has a
    score: the best score wins, a shared best draws, the rest lose. A stated outcome is believed over the scores.
    `counts` are reported counts by name (objectives held, flags taken). `value_destroyed` and `value_lost` are in the
    ruleset's points. `unplayed` names why nothing was played: `bye` (nobody to meet), `forfeit_win`, `forfeit_loss`,
    or `absent` (asked for, or stayed away); an unplayed side states no outcome.
    """

    entrant_id: str
    score: int | None = None
    outcome: Outcome | None = None
    counts: Mapping[str, int] = field(default_factory=lambda: NO_COUNTS)
    value_destroyed: int = 0
    value_lost: int = 0
    unplayed: Unplayed = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Game:
    """A game of two or more sides, each against each other; or a bye or an absence: a game of one side.

    `round` counts from 1; within a round an entrant appears once. Round 0 means "outside rounds" (open play): an
    entrant may appear there any number of times, and such games count in every look back.
    """

    id: str
    round: int = 0
    sides: tuple[Side, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Adjustment:
    """Points given (positive) or taken (negative), in half-points. `round` 0: counts in every look back."""

    entrant_id: str
    points_x2: int
    reason: str
    round: int = 0
