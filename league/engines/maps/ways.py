"""Ways over a map: what can be reached, and the shortest way to where a force may go."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

import rustworkx

from league.engines.maps.model import Map, Road

__all__ = ["Way", "nearest_supplied_way", "reachable", "shortest_way"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Way:
    """`regions` from start to end, both named, and the `roads` between them; `loss` in hundredths of a load."""

    regions: tuple[str, ...]
    roads: tuple[str, ...]
    loss: int

    @property
    def steps(self) -> int:
        return len(self.roads)

    @property
    def end(self) -> str:
        return self.regions[-1]


def reachable(of: Map, starts: Iterable[str], *, passable: Collection[str]) -> frozenset[str]:
    """Every region that can be reached from `starts` by stepping on passable regions only, the starts included.

    A start need not be passable itself: who stands on it may leave it.
    """
    open_ground = frozenset(passable)
    roads = of.roads_by_region()
    seen = {start for start in starts if start in roads}
    waiting = sorted(seen)
    while waiting:
        here = waiting.pop()
        beyond = {road.other(here) for road in roads[here]}
        new = (beyond & open_ground) - seen
        seen |= new
        waiting += sorted(new)
    return frozenset(seen)


def shortest_way(of: Map, start: str, ends: Collection[str], *, passable: Collection[str]) -> Way | None:
    """The way of fewest steps from `start` to any of `ends`, then of least loss, then first by the keys passed.

    Every region after the start is passable. None where there is no way; a way of no steps where `start` is an end.
    By Dijkstra's algorithm, run from the ends so that the way can be read off region by region.
    """
    keys = sorted(each.key for each in of.regions)
    if start not in keys:
        return None
    open_ground = frozenset(passable)
    goals = frozenset(ends) & (open_ground | {start})
    roads = [road for road in of.roads if {road.a, road.b} <= open_ground | {start}]
    step = 1 + sum(road.loss for road in of.roads)
    left = _distances(keys, roads, goals, step)
    if start not in left:
        return None
    regions, taken, loss = [start], [], 0
    at = of.roads_by_region()
    while regions[-1] not in goals:
        here = regions[-1]
        options = [
            (road.other(here), road.key, road)
            for road in at[here]
            if road.other(here) in open_ground
            and road.other(here) in left
            and left[here] == step + road.loss + left[road.other(here)]
        ]
        there, _, road = min(options, key=lambda option: option[:2])
        regions.append(there)
        taken.append(road.key)
        loss += road.loss
    return Way(regions=tuple(regions), roads=tuple(taken), loss=loss)


def nearest_supplied_way(
    of: Map, start: str, *, passable: Collection[str], supplied: Collection[str], shun: Collection[str] = ()
) -> Way | None:
    """Where a beaten force may fall back to: the shortest way out of `start` to a region that supply reaches.

    `supplied` are the regions supply reaches (`reachable` from the faction's stocks); `shun` are regions it may not
    use, such as the one its enemy came from. The force must leave: `start` itself is no refuge. None: it must
    surrender.
    """
    open_ground = frozenset(passable) - frozenset(shun) - {start}
    return shortest_way(of, start, frozenset(supplied) & open_ground, passable=open_ground)


def _distances(keys: list[str], roads: list[Road], goals: Collection[str], step: int) -> dict[str, int]:
    """How far each region is from the nearest goal, counting `step` and the loss for each road."""
    number = {key: place for place, key in enumerate(keys)}
    graph: rustworkx.PyGraph[None, int] = rustworkx.PyGraph()
    graph.add_nodes_from([None] * (len(keys) + 1))
    graph.add_edges_from([(number[road.a], number[road.b], step + road.loss) for road in roads])
    graph.add_edges_from([(len(keys), number[goal], 1) for goal in sorted(goals) if goal in number])
    lengths = rustworkx.dijkstra_shortest_path_lengths(graph, len(keys), float)
    return {keys[place]: round(length) - 1 for place, length in lengths.items() if place < len(keys)}
