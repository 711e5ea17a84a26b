"""Campaign maps: regions, roads, and what can be wrong with them."""

from __future__ import annotations

from league.engines.maps.model import Map, Region, Road, RoadKind

__all__ = ["Map", "Region", "Road", "RoadKind"]
