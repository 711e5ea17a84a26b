"""Coordinates of any kind brought onto the map; none at all: a ring."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from league.engines.maps.model import EDGE

__all__ = ["placed"]

MARGIN: Final = 60  # so that nothing drawn at the edge is cut
MIDDLE: Final = EDGE // 2


def placed(points: Sequence[tuple[float | None, float | None]]) -> tuple[list[tuple[int, int]], str]:
    """Whole coordinates from 0 to 1000 for each, and what was done in words (empty: they were good as they were)."""
    known = [(x, y) for x, y in points if x is not None and y is not None]
    if len(known) < len(points) or not known:
        ring = [_on_ring(place, len(points)) for place in range(len(points))]
        return ring, "Not every node has an x and a y, so all stand in a ring." if points else ""
    if all(value == int(value) and 0 <= value <= EDGE for point in known for value in point):
        return [(int(x), int(y)) for x, y in known], ""
    left, top = min(x for x, _ in known), min(y for _, y in known)
    span = max(max(x for x, _ in known) - left, max(y for _, y in known) - top) or 1.0
    scale = (EDGE - 2 * MARGIN) / span
    fitted = [(MARGIN + round((x - left) * scale), MARGIN + round((y - top) * scale)) for x, y in known]
    return fitted, "The coordinates were fitted to the map."


def _on_ring(place: int, count: int) -> tuple[int, int]:
    angle = 2 * math.pi * place / count
    reach = MIDDLE - MARGIN
    return round(MIDDLE + reach * math.sin(angle)), round(MIDDLE - reach * math.cos(angle))
