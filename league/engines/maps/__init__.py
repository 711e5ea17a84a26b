"""Campaign maps: regions, roads, what can be wrong with them, and ways over them."""

from __future__ import annotations

from league.engines.maps.changes import Change, Standing, changes
from league.engines.maps.faults import MapFault, faults_of
from league.engines.maps.model import Faction, Map, Region, Road, RoadKind, passable_to
from league.engines.maps.ways import Way, nearest_supplied_way, reachable, shortest_way

__all__ = [
    "Change",
    "Faction",
    "Map",
    "MapFault",
    "Region",
    "Road",
    "RoadKind",
    "Standing",
    "Way",
    "changes",
    "faults_of",
    "nearest_supplied_way",
    "passable_to",
    "reachable",
    "shortest_way",
]
