"""A campaign's map as values: regions, the roads between them, and who holds what.

The shared vocabulary of the engines that reckon on a map (supply, war). Coordinates are whole numbers from 0 to 1000,
x to the right and y downwards, for drawing only. Supply is counted in whole loads, loss in hundredths of a load.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Final, Literal

__all__ = ["EDGE", "MOST", "MOST_LOSS", "Faction", "Map", "Region", "Road", "RoadKind", "passable_to"]

RoadKind = Literal["road", "river", "sea_lane"]
EDGE: Final = 1000  # the largest coordinate
MOST: Final = 1_000_000  # the largest capacity, yield or worth: far beyond any campaign, and safe to add up
MOST_LOSS: Final = 100  # a load cannot lose more than itself on one step


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
    """A way between two regions, usable both ways; it carries up to `capacity` loads a turn.

    `loss` is what one load loses on this step, in hundredths of a load. A sea lane joins two ports; what else a kind
    means (who may march on it, how far) is for the campaign's rules to say.
    """

    key: str
    a: str
    b: str
    kind: RoadKind = "road"
    capacity: int = 0
    loss: int = 0

    def other(self, end: str) -> str:
        """The end that is not `end`."""
        return self.b if end == self.a else self.a


@dataclass(frozen=True, kw_only=True, slots=True)
class Faction:
    """One party of the war. Factions of the same `side` are friends; an empty `side` stands alone."""

    key: str
    name: str
    side: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Map:
    name: str
    regions: tuple[Region, ...]
    roads: tuple[Road, ...]

    def region(self, key: str) -> Region | None:
        return next((each for each in self.regions if each.key == key), None)

    def road(self, key: str) -> Road | None:
        return next((each for each in self.roads if each.key == key), None)

    def region_by_key(self) -> dict[str, Region]:
        return {each.key: each for each in self.regions}

    def roads_by_region(self) -> dict[str, tuple[Road, ...]]:
        """For each region the roads that end there, by key; a region without roads has an empty tuple."""
        found: dict[str, list[Road]] = {each.key: [] for each in self.regions}
        for road in sorted(self.roads, key=lambda each: each.key):
            found[road.a].append(road)
            if road.b != road.a:
                found[road.b].append(road)
        return {key: tuple(roads) for key, roads in found.items()}


def passable_to(
    faction: str,
    *,
    of: Map,
    holders: Mapping[str, str],
    contested: Collection[str] = (),
    friends: Collection[str] = (),
) -> frozenset[str]:
    """The regions a faction may pass through: its own, its friends' and those nobody holds, none of them contested.

    `holders` says who holds a region, by key; a region that is not named is held by nobody.
    """
    welcome = {faction, *friends}
    return frozenset(
        each.key for each in of.regions if holders.get(each.key, faction) in welcome and each.key not in contested
    )
