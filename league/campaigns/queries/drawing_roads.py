"""Roads as SVG path data: straight, bowed where several join the same two regions, in waves where it is a river."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from math import atan2, degrees, hypot

from django.utils.translation import gettext as _

from league.campaigns.queries.drawing_parts import DrawnRoad, RoadMark
from league.campaigns.queries.drawing_words import KINDS, MARKS
from league.engines.maps import Map, Road

__all__ = ["drawn_roads"]

BOW = 30  # how far two roads between the same regions keep apart
WAVE, SWELL = 16, 7  # half a wave of a river: its length, and how far it swings


def drawn_roads(of: Map, spots: Mapping[str, tuple[int, int]], marked: Mapping[str, RoadMark]) -> tuple[DrawnRoad, ...]:
    beside: defaultdict[frozenset[str], list[str]] = defaultdict(list)
    for road in of.roads:
        beside[frozenset((road.a, road.b))].append(road.key)
    names = {each.key: each.name for each in of.regions}
    return tuple(
        _drawn(road, spots, beside[frozenset((road.a, road.b))], names, marked.get(road.key, ""))
        for road in of.roads
        if road.a in spots and road.b in spots
    )


def _drawn(
    road: Road, spots: Mapping[str, tuple[int, int]], beside: list[str], names: Mapping[str, str], mark: str
) -> DrawnRoad:
    one, other = sorted((road.a, road.b))  # so that roads beside one another bow to different sides
    start, end = spots[one], spots[other]
    bow = round((beside.index(road.key) - (len(beside) - 1) / 2) * 2 * BOW)
    middle = _bend(start, end, bow)
    x, y = (round((start[at] + 2 * middle[at] + end[at]) / 4) for at in (0, 1))
    path = _waves(start, middle, end) if road.kind == "river" else _line(start, middle, end, bow)
    told = _("%(kind)s between %(one)s and %(other)s, carries %(capacity)s, loses %(loss)s %%") % {
        "kind": KINDS.get(road.kind, road.kind),
        "one": names[road.a],
        "other": names[road.b],
        "capacity": road.capacity,
        "loss": road.loss,
    }
    words = str(MARKS[mark]) if mark else ""
    return DrawnRoad(
        key=road.key,
        kind=road.kind,
        path=path,
        mark=mark,
        words=words,
        told=f"{told}: {words}" if words else told,
        x=x,
        y=y,
        turn=round(degrees(atan2(end[1] - start[1], end[0] - start[0]))),
    )


def _bend(start: tuple[int, int], end: tuple[int, int], bow: int) -> tuple[int, int]:
    """The point that pulls a curve aside."""
    along, down = end[0] - start[0], end[1] - start[1]
    length = hypot(along, down) or 1
    return (
        round((start[0] + end[0]) / 2 - down / length * bow),
        round((start[1] + end[1]) / 2 + along / length * bow),
    )


def _line(start: tuple[int, int], middle: tuple[int, int], end: tuple[int, int], bow: int) -> str:
    if not bow:
        return f"M{start[0]} {start[1]}L{end[0]} {end[1]}"
    return f"M{start[0]} {start[1]}Q{middle[0]} {middle[1]} {end[0]} {end[1]}"


def _waves(start: tuple[int, int], middle: tuple[int, int], end: tuple[int, int]) -> str:
    """Swings from side to side along the curve, each as one quadratic piece."""
    count = max(2, round(hypot(end[0] - start[0], end[1] - start[1]) / WAVE))
    told = [f"M{start[0]} {start[1]}"]
    for number in range(count):
        swing = _on(start, middle, end, (number + 0.5) / count)
        before, after = _on(start, middle, end, number / count), _on(start, middle, end, (number + 1) / count)
        along, down = after[0] - before[0], after[1] - before[1]
        length = hypot(along, down) or 1
        side = SWELL if number % 2 else -SWELL
        told.append(
            f"Q{round(swing[0] - down / length * side)} {round(swing[1] + along / length * side)}"
            f" {round(after[0])} {round(after[1])}"
        )
    return "".join(told)


def _on(start: tuple[int, int], middle: tuple[int, int], end: tuple[int, int], at: float) -> tuple[float, float]:
    """A point of the quadratic curve (Bernstein's form)."""
    x, y = ((1 - at) ** 2 * start[n] + 2 * at * (1 - at) * middle[n] + at**2 * end[n] for n in (0, 1))
    return x, y
