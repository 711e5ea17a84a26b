"""The land around each place of a map, for drawing: every point of it is nearer to this place than to any other.

These are the cells of a Voronoi diagram (M. de Berg and others, Computational Geometry, chapter 7), cut out of the
sheet of the map by one half-plane after the other. Near places come first, and those too far off to cut are left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import dist, inf
from typing import Final

__all__ = ["Point", "cells_of", "spacing_of"]

Point = tuple[float, float]
TENTH: Final = 10


@lru_cache(maxsize=64)
def cells_of(places: tuple[Point, ...], sheet: tuple[float, float, float, float]) -> tuple[tuple[Point, ...], ...]:
    """A polygon for each place, in the same order. `sheet` is left, top, right, bottom; places lie within it.

    Places that lie on one another share a cell.
    """
    left, top, right, bottom = sheet
    corners: tuple[Point, ...] = ((left, top), (right, top), (right, bottom), (left, bottom))
    return tuple(_cell(place, places, corners) for place in places)


def _cell(place: Point, places: Sequence[Point], corners: Sequence[Point]) -> tuple[Point, ...]:
    cell = list(corners)
    for away, other in sorted((dist(place, other), other) for other in places if other != place):
        if away > 2 * max((dist(place, corner) for corner in cell), default=inf):
            break
        cell = _nearer(place, other, cell)
    return tuple(cell)


def _nearer(place: Point, other: Point, cell: Sequence[Point]) -> list[Point]:
    """The part of a convex polygon that is no farther from `place` than from `other`."""
    middle = ((place[0] + other[0]) / 2, (place[1] + other[1]) / 2)
    away = (other[0] - place[0], other[1] - place[1])

    def beyond(point: Point) -> float:
        return (point[0] - middle[0]) * away[0] + (point[1] - middle[1]) * away[1]

    kept: list[Point] = []
    for here, then in zip(cell, [*cell[1:], *cell[:1]], strict=True):
        now, next_ = beyond(here), beyond(then)
        if now <= 0:
            kept.append(here)
        if (now < 0 < next_) or (next_ < 0 < now):
            part = now / (now - next_)
            kept.append((here[0] + part * (then[0] - here[0]), here[1] + part * (then[1] - here[1])))
    return kept


def spacing_of(places: Sequence[Point]) -> float:
    """How far apart places are where they lie close: nine in ten have their neighbour at least this far off.

    Infinite for fewer than two places.
    """
    nearest = sorted(
        min((dist(one, other) for at, other in enumerate(places) if at != number), default=inf)
        for number, one in enumerate(places)
    )
    return nearest[len(nearest) // TENTH] if nearest else inf
