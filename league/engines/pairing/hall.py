"""What seating is about: tables, scenarios, pairings that want both, and how the answers look."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

SeatingCriterion = Literal["table", "scenario"]
BOTH: Final[tuple[SeatingCriterion, ...]] = ("table", "scenario")
TITLES: Final[Mapping[SeatingCriterion, str]] = {"table": "New tables", "scenario": "New scenarios"}


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """A table of the hall, in millimetres."""

    id: str
    width_mm: int
    depth_mm: int
    name: str = ""

    @property
    def size(self) -> tuple[int, int]:
        return min(self.width_mm, self.depth_mm), max(self.width_mm, self.depth_mm)

    def holds(self, scenario: Scenario) -> bool:
        """Whether the scenario fits, turned by a quarter if need be."""
        narrow, wide = sorted((scenario.width_mm, scenario.depth_mm))
        return self.size[0] >= narrow and self.size[1] >= wide


@dataclass(frozen=True, kw_only=True, slots=True)
class Scenario:
    """A scenario and the room it needs."""

    id: str
    width_mm: int = 0
    depth_mm: int = 0
    name: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class ToSeat:
    """A pairing that wants a table. `tables` and `scenarios` are the ids its entrants have had, once per entrant and
    time."""

    key: str
    tables: tuple[str, ...] = ()
    scenarios: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class SeatingPins:
    """What the organiser has fixed, by the key of the pairing."""

    tables: Mapping[str, str] = field(default_factory=dict)
    scenarios: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class Seat:
    """What one pairing got: no table (None) where none was left, no scenario where there are none to choose from."""

    key: str
    table: str | None
    scenario: str | None
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class SeatingGaveWay:
    """A criterion that could not be kept for all: `total` is the least possible while as many as possible are seated
    and the criterion before it is as good as can be; `unavoidable` if that is so whatever else is given up."""

    criterion: SeatingCriterion
    total: int
    keys: tuple[str, ...]
    unavoidable: bool
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Seating:
    """Seats in the order asked for. `totals` by criterion, in order."""

    seats: tuple[Seat, ...]
    totals: tuple[tuple[SeatingCriterion, int], ...]
    gave_way: tuple[SeatingGaveWay, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Choice:
    """One pairing at one table, with the best scenario there."""

    game: int
    table: int
    scenario: Scenario | None
    costs: tuple[int, int]
