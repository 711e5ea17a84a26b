"""The flow by linear programming.

The matrix of a network is totally unimodular (A. J. Hoffman and J. B. Kruskal, 1956), so the simplex method ends at whole
numbers, and so do its prices where costs are whole. HiGHS answers in floating point; both are rounded here and
proved in `league.engines.supply.flow`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import highspy
import numpy as np

from league.engines.supply.flow import Network, Whole, without_negative_circles

__all__ = ["least_cost_flow"]

# One thread and one seed: the same answer on every machine. Presolving a network costs more than it saves.
OPTIONS: Final[Mapping[str, bool | int | str]] = {
    "output_flag": False,
    "threads": 1,
    "random_seed": 0,
    "presolve": "off",
    "solver": "simplex",
    "simplex_dual_edge_weight_strategy": 1,
}
FAR: Final = 1 << 60


def least_cost_flow(network: Network) -> Whole:
    """How many loads go along each arc: whole, conserved, and proved to be optimal."""
    if not network.ranks:
        return np.zeros(len(network.tail), dtype=np.int64)
    # The class beneath highspy.Highs, which greets on standard output before it can be told not to.
    solver = highspy._Highs()  # type: ignore[attr-defined]  # noqa: SLF001
    for name, value in OPTIONS.items():
        solver.setOptionValue(name, value)
    _pass(network, solver)
    solver.setBasis(_first_basis(network))
    solver.run()
    found = solver.getSolution()
    flow = np.rint(found.col_value).astype(np.int64)
    price = np.append(np.rint(found.row_dual).astype(np.int64), 0)
    return without_negative_circles(network, flow, price)


def _pass(network: Network, solver: highspy.Highs) -> None:
    """A column for each arc; a row for each region, where as much comes in as goes out. O has none: it follows."""
    arcs, nodes = len(network.tail), network.nodes
    row = np.stack([network.tail, network.head], axis=1)
    there = row < nodes
    start = np.concatenate([[0], np.cumsum(there.sum(axis=1))]).astype(np.int32)
    value = np.broadcast_to([-1.0, 1.0], row.shape)[there]
    nothing = np.zeros(nodes)
    solver.passModel(
        arcs,
        nodes,
        int(start[-1]),
        int(highspy.MatrixFormat.kColwise),
        int(highspy.ObjSense.kMinimize),
        0.0,
        network.weighed().astype(np.float64),
        np.zeros(arcs),
        network.capacity.astype(np.float64),
        nothing,
        nothing,
        start,
        row[there].astype(np.int32),
        value,
        np.zeros(arcs, dtype=np.int32),
    )


def _first_basis(network: Network) -> highspy.HighsBasis:
    """Where to begin: each region served by the cheapest way from any stock, each force that has one given all it needs.

    The prices of those ways leave nothing to gain, so the dual simplex method starts from there and has only to mend
    the roads and stocks that this would ask too much of.
    """
    came = _cheapest(network)
    lower, upper, basic = (
        highspy.HighsBasisStatus.kLower,
        highspy.HighsBasisStatus.kUpper,
        highspy.HighsBasisStatus.kBasic,
    )
    basis = highspy.HighsBasis()
    columns = [lower] * len(network.tail)
    for arc in np.flatnonzero((network.rank > 0) & (came[network.tail] >= 0)).tolist():
        columns[arc] = upper
    for arc in came[came >= 0].tolist():
        columns[arc] = basic
    basis.col_status = columns
    basis.row_status = [lower if arc >= 0 else basic for arc in came[:-1].tolist()]
    basis.valid = True
    return basis


def _cheapest(network: Network) -> Whole:
    """For each node the arc by which it is reached at the least cost from O; -1 for O and what cannot be reached."""
    arcs = np.flatnonzero(network.rank == 0)
    tail, head, cost = network.tail[arcs], network.head[arcs], network.cost[arcs]
    price = np.full(network.nodes + 1, FAR)
    price[-1] = 0
    came = np.full(network.nodes + 1, -1, dtype=np.int64)
    while True:
        offer = price[tail] + cost
        lower = price.copy()
        np.minimum.at(lower, head, offer)
        better = np.flatnonzero((offer == lower[head]) & (offer < price[head]) & (price[tail] < FAR))
        if not len(better):
            return came
        came[head[better]] = arcs[better]
        price = lower
