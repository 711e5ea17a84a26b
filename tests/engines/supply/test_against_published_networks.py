"""Transport problems, greatest flows and shortest ways as textbooks print them (tests/reference/networks)."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from league.engines.supply import distribute
from league.engines.supply.flow import Network, is_a_flow
from league.engines.supply.simplex import least_cost_flow
from tests.engines.supply.wars import force, road, stock, war

PUBLISHED = json.loads(
    (Path(__file__).parents[2] / "reference" / "networks" / "network_flows.json").read_text(encoding="utf-8")
)["problems"]


def published(kind: str):
    found = [each for each in PUBLISHED if each["type"] == kind]
    return pytest.mark.parametrize("problem", found, ids=[each["name"] for each in found])


def solved(arcs, supplies, needs):
    """Least-cost flow over (start, end, capacity, cost); gives the arcs' flow, what arrives and the cost."""
    names = sorted({end for arc in arcs for end in arc[:2]})
    number = {name: place for place, name in enumerate(names)}
    office = len(names)
    rows = [
        *((office, number[name], most, 0, 0) for name, most in supplies.items()),
        *((number[start], number[end], capacity, cost, 0) for start, end, capacity, cost in arcs),
        *((number[name], office, most, 0, 1) for name, most in needs.items()),
    ]
    tail, head, capacity, cost, rank = np.array(rows, dtype=np.int64).T
    network = Network(nodes=office, tail=tail, head=head, capacity=capacity, cost=cost, rank=rank)
    flow = least_cost_flow(network)
    assert is_a_flow(network, flow)
    carried = flow[len(supplies) : len(supplies) + len(arcs)]
    return (
        dict(zip([arc[:2] for arc in arcs], carried.tolist(), strict=True)),
        int(flow[rank > 0].sum()),
        int(cost @ flow),
    )


@published("transportation")
def test_transport_at_the_published_least_cost(problem):
    supplies = {f"from {place}": count for place, count in enumerate(problem["supply"])}
    needs = {f"to {place}": count for place, count in enumerate(problem["demand"])}
    arcs = [
        (f"from {start}", f"to {end}", 1000, cost)
        for start, row in enumerate(problem["cost"])
        for end, cost in enumerate(row)
    ]
    _, arrived, cost = solved(arcs, supplies, needs)
    assert arrived == sum(needs.values())
    assert cost == problem["optimal_cost"]


@published("min_cost_flow")
def test_a_flow_of_the_published_least_cost(problem):
    arcs = [tuple(arc) for arc in problem["arcs"]]
    supplies = {name: count for name, count in problem["supply"].items() if count > 0}
    needs = {name: -count for name, count in problem["supply"].items() if count < 0}
    assert solved(arcs, supplies, needs)[1:] == (sum(needs.values()), problem["optimal_cost"])


@published("max_flow")
def test_the_published_greatest_flow_and_its_full_arcs(problem):
    arcs = [(start, end, capacity, 1) for start, end, capacity in problem["arcs"]]
    carried, arrived, _ = solved(arcs, {problem["source_node"]: 1000}, {problem["sink"]: 1000})
    assert arrived == problem["max_flow"]
    capacity = {arc[:2]: arc[2] for arc in arcs}
    for cut in map(tuple, problem.get("min_cut_arcs", ())):
        assert carried[cut] == capacity[cut]


@published("shortest_path")
def test_one_load_takes_the_published_shortest_way(problem):
    arcs = [(start, end, 1, cost) for start, end, cost in problem["arcs"]]
    for name, distance in problem["distances"].items():
        assert solved(arcs, {problem["source_node"]: 1}, {name: 1})[1:] == (1, distance)


@published("shortest_way_both_ways")
def test_a_delivery_loses_the_published_length_of_the_way(problem):
    roads = [road(f"{start}-{end}", loss=loss) for start, end, loss in problem["edges"]]
    situation = war(roads, stocks=[stock(problem["from"], 1)], forces=[force("first", problem["to"], 1)])
    assert distribute(situation).deliveries[0].loss == problem["length"]
