"""A night without nested templates and colours to tell apart is a network: goods, uses, demands, and what is missing."""

from __future__ import annotations

from dataclasses import replace

import networkx as nx

from league.engines.kit.model import Night
from league.engines.kit.plan import Plan

IMPORTANCES = ("needed", "wanted", "pleasant")
LEVELS = (*IMPORTANCES, "rank", "loss")


def flat(night: Night) -> Night:
    """The night as a network: uses that cover several demands, or take several pieces for one, are left out."""
    uses = tuple(use for use in night.uses if use.takes == 1 and len(use.covers) == 1 and use.covers[0][1] == 1)
    return replace(night, uses=uses, apart=(), packed=())


def digits_of(night: Night) -> tuple[int, ...]:
    """What one piece missing, a rank and a loss weigh in one number, so that all that comes after never adds up to one
    of what comes before."""
    pieces = sum(demand.count for demand in night.demands) + 1
    most_rank = max((use.rank for use in night.uses), default=0)
    most_loss = max((use.loss for use in night.uses), default=0)
    loss = 1
    rank = loss * (pieces * most_loss + 1)
    pleasant = rank * (pieces * most_rank + 1)
    wanted = pleasant * pieces
    return wanted * pieces, wanted, pleasant, rank, loss


def network_of(night: Night, *, by_holding: bool = False) -> nx.DiGraph:
    """A graph for networkx: what leaves "all" arrives at the demands, through goods or missing.

    `by_holding`: as a transport problem is written down, with an arc from every holding to every demand it can serve.
    Otherwise all holdings of a good are one heap, which is all that least shortfall and stand-ins ask for.
    """
    weights = dict(zip(LEVELS, digits_of(night), strict=True))
    heaps: dict[str, list[tuple[str, int]]] = {}
    for supply in night.supplies:
        heap = supply.key if by_holding else supply.good
        heaps.setdefault(supply.good, []).append((heap, supply.count))
    graph = nx.DiGraph()
    graph.add_node("all", demand=-sum(demand.count for demand in night.demands))
    for several in heaps.values():
        for heap, count in several:
            before = graph.edges["all", ("heap", heap)]["capacity"] if graph.has_node(("heap", heap)) else 0
            graph.add_edge("all", ("heap", heap), capacity=before + count, weight=0)
    for demand in night.demands:
        graph.add_node(("demand", demand.key), demand=demand.count)
        graph.add_edge("all", ("demand", demand.key), weight=weights[demand.importance])
    for use in night.uses:
        weight = use.rank * weights["rank"] + use.loss * weights["loss"]
        for heap in dict.fromkeys(heap for heap, _count in heaps.get(use.good, ())):
            arc = (("heap", heap), ("demand", use.covers[0][0]))
            if not graph.has_edge(*arc) or graph.edges[arc]["weight"] > weight:
                graph.add_edge(*arc, weight=weight)
    return graph


def cost_of(night: Night, plan: Plan) -> int:
    """What the plan costs in the same one number."""
    weights = zip(LEVELS, digits_of(night), strict=True)
    return sum(plan.value(level) * weight for level, weight in weights)  # type: ignore[arg-type]
