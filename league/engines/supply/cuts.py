"""Why a force got no more: the cut of the network, read off the flow and proved."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

import rustworkx

from league.engines.supply.flow import Whole
from league.engines.supply.ground import Ground
from league.engines.supply.model import Barrier, Cut, Force

__all__ = ["Cuts"]


class Cuts:
    """The cuts of one faction's optimal flow."""

    def __init__(self, ground: Ground, flow: Whole) -> None:
        loads = [int(each) for each in flow]
        stocks, ways = len(ground.stocks), len(ground.ways)
        self.ground = ground
        self.sent = dict(zip(ground.stocks, loads, strict=False))
        self.carried = loads[stocks : stocks + ways]
        self.fed = {force.key: got for force, got in zip(ground.forces, loads[stocks + ways :], strict=True)}
        self._barriers: dict[frozenset[str], tuple[Barrier, ...]] = {}

    @cached_property
    def supplied(self) -> frozenset[str]:
        """The regions to which a way leads from any stock, be it empty, over roads however full."""
        onward: defaultdict[str, list[str]] = defaultdict(list)
        for _, start, end in self.ground.ways:
            onward[start].append(end)
        return _spread(self.ground.stocks, onward)

    def of(self, force: Force) -> Cut:
        """The cut around a force that could not be given all it needs.

        Inside are the regions from which one more load could be brought to it. So every road that comes in is
        full, every stock inside is empty, nothing goes out, and what comes in is what the forces inside got; those
        of less importance got nothing, or it would have been taken from them.
        """
        inside = self._inside(force.region)
        full = [
            (road, loads)
            for (road, start, end), loads in zip(self.ground.ways, self.carried, strict=True)
            if end in inside and start not in inside
        ]
        spent = [key for key in self.ground.stocks if key in inside and self.ground.available(key)]
        worth = sum(road.capacity for road, _ in full) + sum(self.ground.available(key) for key in spent)
        fed = [each for each in self.ground.forces if each.region in inside and self.fed[each.key]]
        if worth != sum(self.fed[each.key] for each in fed):
            raise RuntimeError(f"The cut around {force.key} is worth {worth} and does not prove its flow.")
        return Cut(
            regions=tuple(sorted(inside)),
            full_roads=tuple(sorted(road.key for road, _ in full)),
            spent=tuple(spent),
            barriers=self._barriers_of(inside),
            shared_with=tuple(each.key for each in fed if each is not force),
            loads=worth,
        )

    @cached_property
    def _residual(self) -> rustworkx.PyDiGraph[None, None]:
        """An arc for every step on which one more load could be carried, or one that is carried be saved."""
        number = self.ground.number
        graph: rustworkx.PyDiGraph[None, None] = rustworkx.PyDiGraph()
        graph.add_nodes_from([None] * len(self.ground.places))
        arcs = []
        for (road, start, end), loads in zip(self.ground.ways, self.carried, strict=True):
            if loads < road.capacity:
                arcs.append((number[start], number[end], None))
            if loads:
                arcs.append((number[end], number[start], None))
        graph.add_edges_from(arcs)
        return graph

    def _inside(self, region: str) -> frozenset[str]:
        found = rustworkx.ancestors(self._residual, self.ground.number[region])
        return frozenset(self.ground.places[place] for place in found) | {region}

    @cached_property
    def _neighbours(self) -> dict[str, tuple[str, ...]]:
        at = self.ground.situation.map.roads_by_region()
        return {key: tuple(road.other(key) for road in roads if road.capacity) for key, roads in at.items()}

    @cached_property
    def _depots(self) -> frozenset[str]:
        """Where the faction has or would have a stock: a contested source would yield if it were not."""
        holders = self.ground.situation.holders
        sources = (each.key for each in self.ground.situation.map.regions if each.produces)
        return frozenset(self.ground.stocks) | {key for key in sources if holders.get(key) == self.ground.faction}

    def _barriers_of(self, inside: frozenset[str]) -> tuple[Barrier, ...]:
        if inside not in self._barriers:
            self._barriers[inside] = tuple(self.ground.barrier(region) for region in sorted(self._blocking(inside)))
        return self._barriers[inside]

    def _blocking(self, inside: frozenset[str]) -> frozenset[str]:
        """The regions at the edge, on either side of it, that block a way from a stock outside."""
        situation, passable = self.ground.situation, self.ground.passable
        beyond = _spread(self._depots - inside, self._neighbours, without=inside)
        closed = frozenset(key for key in inside if key not in passable and key not in situation.contested)
        # A source that is fought over yields nothing to whoever stands there.
        found = {key for key in inside & self._depots if key in situation.contested and key not in self.ground.stocks}
        for here in inside:
            for there in self._neighbours[here]:
                if there in inside or there not in beyond:
                    continue
                if here in closed:
                    found.add(here)
                elif there not in passable:
                    found.add(there)
        return frozenset(found)


def _spread(
    starts: Iterable[str], onward: Mapping[str, Sequence[str]], *, without: frozenset[str] = frozenset()
) -> frozenset[str]:
    seen = set(starts)
    waiting = list(seen)
    while waiting:
        for there in onward.get(waiting.pop(), ()):
            if there not in seen and there not in without:
                seen.add(there)
                waiting.append(there)
    return frozenset(seen)
