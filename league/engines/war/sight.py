"""How far one sees on a map."""

from __future__ import annotations

from collections.abc import Set as AbstractSet

from league.engines.maps import Map
from league.engines.war.working import chart_of

__all__ = ["seen_regions"]


def seen_regions(of: Map, *looks: tuple[AbstractSet[str], int]) -> frozenset[str]:
    """The regions within so many roads of any of these, for each look: its starts, and how far. Roads that carry
    nothing are looked along too. Starts that are no region of the map are left out."""
    roads_at = chart_of(of).roads_at
    seen: set[str] = set()
    for starts, far in looks:
        ring = {each for each in starts if each in roads_at}
        found = set(ring)
        for _ in range(far):
            ring = {road.other(here) for here in ring for road in roads_at[here]} - found
            found |= ring
        seen |= found
    return frozenset(seen)
