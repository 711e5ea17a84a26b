"""The same supply, reckoned with networkx from the words of the rules, without any of our own engine.

Level by level: the greatest flow to the forces of the first importance, kept, then to the next; then the least loss at
which all those totals can be had.
"""

from __future__ import annotations

from dataclasses import dataclass

import networkx as nx

from league.engines.supply import Situation


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What each importance gets, by importance, and the loss of it all in hundredths of a load."""

    met: dict[int, int]
    loss: int


def network_of(situation: Situation, faction: str) -> nx.MultiDiGraph:
    """Arcs from "stock" into regions and from region to region; a contested region is left by nobody."""
    graph = nx.MultiDiGraph()
    graph.add_nodes_from(["stock", "need"])
    holders, contested = situation.holders, situation.contested
    own = {each.key for each in situation.map.regions if holders.get(each.key) in {faction, None}} - contested
    for each in situation.map.regions:
        if each.produces and holders.get(each.key) == faction and each.key not in contested:
            graph.add_edge("stock", each.key, capacity=each.produces, weight=0)
    for each in situation.stocks:
        if each.faction == faction:
            graph.add_edge("stock", each.region, capacity=each.loads, weight=0)
    for each in situation.map.roads:
        for start, end in ((each.a, each.b), (each.b, each.a)):
            if start in own and (end in own or end in contested):
                graph.add_edge(start, end, capacity=each.capacity, weight=each.loss)
    return graph


def answer(situation: Situation, faction: str) -> Answer:
    graph = network_of(situation, faction)
    forces = [each for each in situation.forces if each.faction == faction]
    met: dict[int, int] = {}
    for importance in sorted({each.importance for each in forces}):
        level = f"level {importance}"
        for each in forces:
            if each.importance == importance:
                graph.add_edge(each.region, level, capacity=each.need, weight=0)
        room = sum(each.need for each in forces if each.importance == importance)
        graph.add_edge(level, "need", capacity=room, weight=0, key="all")
        total = nx.maximum_flow_value(simple(graph), "stock", "need")
        met[importance] = total - sum(met.values())
        graph[level]["need"]["all"]["capacity"] = met[importance]
    total = sum(met.values())
    graph.nodes["stock"]["demand"], graph.nodes["need"]["demand"] = -total, total
    cost, _ = nx.network_simplex(graph)
    return Answer(met=met, loss=cost)


def simple(graph: nx.MultiDiGraph) -> nx.DiGraph:
    """Arcs side by side made one: the greatest flow does not ask what a way costs."""
    made = nx.DiGraph()
    made.add_nodes_from(graph)
    for start, end, facts in graph.edges(data=True):
        before = made[start][end]["capacity"] if made.has_edge(start, end) else 0
        made.add_edge(start, end, capacity=before + facts["capacity"])
    return made
