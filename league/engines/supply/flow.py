"""The exact minimum-cost flow beneath supply: what is asked, and the proof in whole numbers that it was answered.

The problem: an office O issues what lies in stock and takes back what forces consume, so that all flow goes round in
circles through it. Arcs are stocks (O to a region), roads (region to region, one arc each way) and forces (a region
to O). Of all flows within capacity, those are wanted that bring most to the forces of the first rank, then of the
second, and so on; among them those of least cost.

One set of weights says both. A circle passes O once, so it changes what at most two ranks get, by a load each; it is
enough that a load for a rank is worth more than one for the next and all that any circle could cost. Weights grow
with the number of ranks, not as powers of it.

The answer of the simplex method (`league.engines.supply.simplex`) is proved before it is used: flow is conserved and
within capacity, and no circle in the residual network would improve it, counted in whole numbers (M. Klein, 1967: a
flow is of least cost if and only if it has no negative circle). A circle that is found all the same is cancelled,
so the answer is right even where weights are too large for a double to hold.

Rejected: a run for each rank and one for the cost (right as well, and several times as slow); loss as a gain on arcs
(the loads that leave would be fractions, and no ledger of whole loads could be kept).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

__all__ = ["Network", "Whole", "is_a_flow", "negative_circle", "without_negative_circles"]

Whole = NDArray[np.int64]
LOOK: Final = 8  # rounds between two looks for a circle


@dataclass(frozen=True, kw_only=True, slots=True)
class Network:
    """`nodes` regions from 0, and O as the node numbered `nodes`. `rank` is 0 but for arcs to forces: 1 comes first.

    `cost` is 1 or more on roads and 0 elsewhere.
    """

    nodes: int
    tail: Whole
    head: Whole
    capacity: Whole
    cost: Whole
    rank: Whole

    @property
    def ranks(self) -> int:
        return int(self.rank.max(initial=0))

    def weighed(self) -> Whole:
        """Costs in which a load to a rank outweighs a load to the next and whatever roads it takes."""
        dearer = int(self.cost.max(initial=0)) * (self.nodes + 1) + 1
        return np.where(self.rank > 0, -(self.ranks + 1 - self.rank) * dearer, self.cost)


def is_a_flow(network: Network, flow: Whole) -> bool:
    """Does it keep within capacity, and does what comes to a node leave it?"""
    balance = np.bincount(network.head, flow, network.nodes + 1) - np.bincount(network.tail, flow, network.nodes + 1)
    return bool(((flow >= 0) & (flow <= network.capacity)).all() and not balance.any())


def without_negative_circles(network: Network, flow: Whole, price: Whole | None = None) -> Whole:
    """The flow itself where it is optimal; else improved until it is. `price`: see `negative_circle`."""
    if not is_a_flow(network, flow):
        flow = np.zeros_like(flow)
    while (circle := negative_circle(network, flow, price)) is not None:
        arcs, signs = circle
        room = np.where(signs > 0, network.capacity[arcs] - flow[arcs], flow[arcs])
        flow = flow.copy()
        flow[arcs] += signs * room.min()
    return flow


def negative_circle(network: Network, flow: Whole, price: Whole | None = None) -> tuple[Whole, Whole] | None:
    """Arcs of a circle along which sending more (sign 1) or less (-1) would pay; None proves the flow optimal.

    By the method of R. Bellman and L. R. Ford: prices fall until no residual arc offers its head a lower one, and at
    such prices no circle can pay. `price` is where to begin, one for each node and O; the better, the sooner done.
    """
    cost = network.weighed()
    ahead, back = np.flatnonzero(flow < network.capacity), np.flatnonzero(flow > 0)
    arcs = np.concatenate([ahead, back])
    tail = np.concatenate([network.tail[ahead], network.head[back]])
    head = np.concatenate([network.head[ahead], network.tail[back]])
    length = np.concatenate([cost[ahead], -cost[back]])
    signs = np.concatenate([np.ones(len(ahead), dtype=np.int64), -np.ones(len(back), dtype=np.int64)])
    price = np.zeros(network.nodes + 1, dtype=np.int64) if price is None else price
    came = np.full(network.nodes + 1, -1, dtype=np.int64)
    rounds = 0
    while True:
        offer = price[tail] + length
        lower = price.copy()
        np.minimum.at(lower, head, offer)
        better = np.flatnonzero((offer == lower[head]) & (offer < price[head]))
        if not len(better):
            return None
        came[head[better]] = better
        price = lower
        rounds += 1
        if not rounds % LOOK and (circle := _circle(came, tail)):
            return arcs[circle], signs[circle]


def _circle(came: Whole, tail: Whole) -> list[int]:
    """A circle among the arcs by which nodes got their price: always a negative one. Empty: there is none."""
    before = [int(tail[arc]) if arc >= 0 else -1 for arc in came]
    seen = [0] * len(before)
    for start in range(len(before)):
        node = start
        while node >= 0 and not seen[node]:
            seen[node] = start + 1
            node = before[node]
        if node >= 0 and seen[node] == start + 1:
            found, end = [int(came[node])], node
            while (node := before[node]) != end:
                found.append(int(came[node]))
            return found
    return []
