"""One faction's network: where its supply may go this turn, as arcs for the flow."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from league.engines.maps import Road, passable_to
from league.engines.supply.flow import Network
from league.engines.supply.model import Barrier, Force, Situation

__all__ = ["Ground", "ground_of"]


@dataclass(frozen=True, kw_only=True)
class Ground:
    """`places` are the regions of the network by number; arcs come as stocks, then roads, each way, then forces.

    Everything is in the order of its key, so the order in which a situation lists its parts makes no difference.
    """

    situation: Situation
    faction: str
    passable: frozenset[str]
    places: tuple[str, ...]
    held: dict[str, int]
    produced: dict[str, int]
    ways: tuple[tuple[Road, str, str], ...]
    forces: tuple[Force, ...]

    @cached_property
    def number(self) -> dict[str, int]:
        return {key: place for place, key in enumerate(self.places)}

    @cached_property
    def stocks(self) -> tuple[str, ...]:
        return tuple(sorted(self.held.keys() | self.produced.keys()))

    def available(self, region: str) -> int:
        return self.held.get(region, 0) + self.produced.get(region, 0)

    @cached_property
    def network(self) -> Network:
        """Costs are the loss, then the number of steps: among ways of equal loss the flow takes those of fewest."""
        office = len(self.places)
        number = self.number
        arcs = [
            *((office, number[key], self.available(key), 0, 0) for key in self.stocks),
            *(
                (number[start], number[end], road.capacity, road.loss * (office + 1) + 1, 0)
                for road, start, end in self.ways
            ),
            *(
                (number[force.region], office, force.need, 0, rank)
                for force, rank in zip(self.forces, self._ranks(), strict=True)
            ),
        ]
        table = np.array(arcs, dtype=np.int64).reshape(-1, 5)
        tail, head, capacity, cost, rank = (np.ascontiguousarray(column) for column in table.T)
        return Network(nodes=office, tail=tail, head=head, capacity=capacity, cost=cost, rank=rank)

    def _ranks(self) -> list[int]:
        order = {importance: rank for rank, importance in enumerate(sorted({f.importance for f in self.forces}), 1)}
        return [order[force.importance] for force in self.forces]

    def barrier(self, region: str) -> Barrier:
        return Barrier(
            region=region,
            holder=self.situation.holders.get(region),
            contested=region in self.situation.contested,
        )


def ground_of(situation: Situation, faction: str) -> Ground:
    passable = passable_to(
        faction,
        of=situation.map,
        holders=situation.holders,
        contested=situation.contested,
        friends=situation.friends.get(faction, ()),
    )
    forces = [each for each in situation.forces if each.faction == faction]
    held = {each.region: each.loads for each in situation.stocks if each.faction == faction}
    produced = {
        each.key: each.produces
        for each in situation.map.regions
        if each.produces and each.key in passable and situation.holders.get(each.key) == faction
    }
    entered = passable | situation.contested
    ways = sorted(
        (
            (road, start, end)
            for road in situation.map.roads
            for start, end in ((road.a, road.b), (road.b, road.a))
            if road.capacity and start in passable and end in entered
        ),
        key=lambda way: (way[0].key, way[1]),
    )
    return Ground(
        situation=situation,
        faction=faction,
        passable=passable,
        places=tuple(sorted(entered | {force.region for force in forces})),
        held=held,
        produced=produced,
        ways=tuple(ways),
        forces=tuple(sorted(forces, key=lambda force: (force.importance, force.key))),
    )
