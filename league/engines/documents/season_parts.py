"""What a season document says, as frozen values. Days are dates, points half-points, ids the document's own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from league.engines.documents.season_formats import Pairing
from league.engines.standings import Outcome, Rules, Unplayed

__all__ = [
    "COUNTING",
    "Counts",
    "ReportState",
    "SeasonAdjustment",
    "SeasonDivision",
    "SeasonDocument",
    "SeasonEntrant",
    "SeasonGame",
    "SeasonLeft",
    "SeasonRound",
    "SeasonSide",
]

Counts = Literal["filed", "confirmed"]
ReportState = Literal["none", "awaiting", "confirmed", "disputed", "settled", "void"]

# Which reports count, by the season's own rule. What is disputed or struck out never does.
COUNTING: Mapping[Counts, frozenset[ReportState]] = {
    "filed": frozenset({"awaiting", "confirmed", "settled"}),
    "confirmed": frozenset({"confirmed", "settled"}),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class SeasonLeft:
    """That an entrant left: after which round and on which day, as far as known, and why."""

    after_round: int | None = None
    on: date | None = None
    reason: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class SeasonDivision:
    """One division; `level` 1 is the highest. So many go up from it at the end, and so many down."""

    id: str
    name: str
    level: int
    promotes: int = 0
    relegates: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class SeasonEntrant:
    """One player or team. `joined_after_round`: how many rounds were over when it entered; `seed` counts from 1."""

    id: str
    name: str
    players: tuple[str, ...] = ()
    left: SeasonLeft | None = None
    division: str = ""
    joined_after_round: int = 0
    party: str = ""
    newcomer: bool = False
    seed: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class SeasonRound:
    """One round, numbered from 1."""

    number: int
    on: date | None = None
    note: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class SeasonSide:
    """An entrant's part in a game. `outcome` is None while there is no report, and for a side that is `unplayed`."""

    entrant: str
    score: int | None = None
    outcome: Outcome | None = None
    conceded: bool = False
    counts: Mapping[str, int] = field(default_factory=dict)
    value_destroyed: int = 0
    value_lost: int = 0
    unplayed: Unplayed = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class SeasonGame:
    """A pairing of `round` (0: open play). `report` says how far its battle report is."""

    id: str
    round: int
    on: date | None = None
    postponed_until: date | None = None
    scenario: str | None = None
    report: ReportState = "none"
    sides: tuple[SeasonSide, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class SeasonAdjustment:
    """Half-points given or taken, counted in every look back to `after_round` or later."""

    entrant: str
    points_x2: int
    after_round: int = 0
    reason: str
    on: date | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class SeasonDocument:
    """A whole season. `rules.seed` is made of the text `seed`, so it is not told apart."""

    name: str
    club: str = ""
    starts_on: date
    ends_on: date | None = None
    seed: str
    rules: Rules
    counts: Counts = "filed"
    pairing: Pairing = field(default_factory=Pairing)
    divisions: tuple[SeasonDivision, ...] = ()
    entrants: tuple[SeasonEntrant, ...] = ()
    rounds: tuple[SeasonRound, ...] = ()
    games: tuple[SeasonGame, ...] = ()
    adjustments: tuple[SeasonAdjustment, ...] = ()
