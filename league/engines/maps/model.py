"""A campaign's map as values: regions and the roads between them.

The shared vocabulary of the engines that reckon on a map (supply, war). Coordinates are whole numbers from 0 to 1000,
x to the right and y downwards, for drawing only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Map", "Region", "Road", "RoadKind"]

RoadKind = Literal["road", "river", "sea_lane"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Region:
    """A place that can be held. `produces` is the supply it yields its holder each turn (0: no source)."""

    key: str
    name: str
    terrain: str
    x: int
    y: int
    worth: int = 0
    stronghold: bool = False
    port: bool = False
    produces: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Road:
    """A way between two regions, usable both ways; it carries up to `capacity` supply a turn.

    `loss` is what one supply costs on this step, in hundredths of a supply.
    """

    key: str
    a: str
    b: str
    kind: RoadKind = "road"
    capacity: int = 0
    loss: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Map:
    name: str
    regions: tuple[Region, ...]
    roads: tuple[Road, ...]

    def region(self, key: str) -> Region | None:
        return next((each for each in self.regions if each.key == key), None)
