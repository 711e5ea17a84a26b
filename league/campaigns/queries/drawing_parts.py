"""What a drawn map consists of: plain values for a template, places in whole units of the drawing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = [
    "Drawing",
    "DrawnFaction",
    "DrawnForce",
    "DrawnRegion",
    "DrawnRoad",
    "ForceMark",
    "Known",
    "Line",
    "RegionMark",
    "RoadMark",
    "Sign",
]

Known = Literal["presence", "size", "units"]
RoadMark = Literal["full", "blocked", "used"]
RegionMark = Literal["blocked", "short", "cut_off"]


@dataclass(frozen=True, kw_only=True, slots=True)
class ForceMark:
    """A force to be drawn, as far as the reader knows it: that it is there, about how many (`figures`), or its units.

    `condition` is its supply where the reader may know it: `short`, `cut_off`, or empty."""

    key: str
    name: str
    faction: str
    region: str
    known: Known = "units"
    figures: int | None = None
    dug_in: bool = False
    condition: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """A line of words under a region."""

    words: str
    y: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Sign:
    """A small sign over a region: `sign` names its symbol; a number stands right of it."""

    sign: str
    x: int
    number: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class DrawnFaction:
    """`number` counts from 1; of `pattern`s there are eight. `letter` is nobody else's. `mine`: the reader's own."""

    key: str
    name: str
    letter: str
    number: int
    pattern: int
    mine: bool = False
    regions: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class DrawnForce:
    key: str
    name: str
    words: str
    told: str
    letter: str
    number: int
    pattern: int
    mine: bool
    known: Known
    x: int
    y: int


@dataclass(frozen=True, kw_only=True, slots=True)
class DrawnRegion:
    """`cell` are the corners of its land. `told` says all that is drawn in words. `letter` is empty where nobody holds
    it and a question mark where the reader does not know."""

    key: str
    name: str
    x: int
    y: int
    cell: str
    terrain: str
    stronghold: bool
    holder: str
    letter: str
    number: int
    pattern: int
    mine: bool
    lines: tuple[Line, ...]
    signs: tuple[Sign, ...]
    signs_y: int
    features: str
    forces: tuple[DrawnForce, ...]
    contested: bool
    mark: str
    told: str
    ways: str
    link: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class DrawnRoad:
    """`path` is SVG path data; a mark is drawn across it at (`x`, `y`), turned by `turn` degrees."""

    key: str
    kind: str
    path: str
    mark: str
    words: str
    told: str
    x: int
    y: int
    turn: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawing:
    """`width` and `height` are pixels at which the words are of reading size; `prefix` keeps the ids of several
    drawings on one page apart; `terrains` and `signs` are (symbol, words) for the legend."""

    name: str
    prefix: str
    view_box: str
    width: int
    height: int
    told: str
    factions: tuple[DrawnFaction, ...]
    regions: tuple[DrawnRegion, ...]
    roads: tuple[DrawnRoad, ...]
    terrains: tuple[tuple[str, str], ...]
    signs: tuple[tuple[str, str], ...]
    kinds: tuple[tuple[str, str], ...]
    has_links: bool = False
