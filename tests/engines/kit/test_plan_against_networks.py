"""Least shortfall and best stand-ins against published problems of transport and assignment, and against networkx."""

from __future__ import annotations

import json
import random
from pathlib import Path

import networkx as nx
import pytest

from league.engines.kit.model import Demand, Night, Supply, Use
from league.engines.kit.plan import Plan, plan_night
from tests.engines.kit.club_evening import evening
from tests.engines.kit.evenings import tiny
from tests.engines.kit.networks import cost_of, flat, network_of

REFERENCE = Path(__file__).parents[2] / "reference" / "optimisation" / "network_and_assignment.json"
PROBLEMS = json.loads(REFERENCE.read_text(encoding="utf-8"))["problems"]
CRITERIA = ("shortfall", "stand_ins")


def of_kind(kind: str) -> list[dict]:
    return [pytest.param(each, id=each["name"]) for each in PROBLEMS if each["type"] == kind]


def planned(cost: list[list[int]], supply: list[int], demand: list[int], forbidden: set[tuple[int, int]]) -> Plan:
    """Each source a good at the venue, each destination a demand at a table; what an arc costs is the use's loss."""
    night = Night(
        demands=tuple(
            Demand(key=f"d{at}", table=f"t{at}", name=f"demand {at}", count=count) for at, count in enumerate(demand)
        ),
        uses=tuple(
            Use(table=f"t{to}", good=f"g{at}", covers=((f"d{to}", 1),), loss=price)
            for at, row in enumerate(cost)
            for to, price in enumerate(row)
            if (at, to) not in forbidden
        ),
        supplies=tuple(
            Supply(key=f"s{at}", good=f"g{at}", name=f"good {at}", count=count, carrier=None)
            for at, count in enumerate(supply)
        ),
        carriers=(),
    )
    return plan_night(night, criteria=CRITERIA)


@pytest.mark.parametrize("problem", of_kind("transportation"))
def test_a_published_transport_problem_has_its_published_cost(problem):
    """Each names its book; quoted from memory and solved again by the reference's keeper, as the file says."""
    plan = planned(problem["cost"], problem["supply"], problem["demand"], set())
    assert (plan.value("needed"), plan.value("loss"), plan.proven) == (0, problem["optimal_cost"], True)


@pytest.mark.parametrize("problem", of_kind("assignment"))
def test_a_published_assignment_has_its_published_value(problem):
    """From the documentation of scipy and of the munkres package, and a textbook from memory, as the file says."""
    cost, forbidden = problem["cost"], {tuple(pair) for pair in problem["forbidden"]}
    plan = planned(cost, [1] * len(cost), [1] * len(cost[0]), forbidden)
    assert plan.value("needed") == len(cost[0]) - len(cost)
    assert (plan.value("loss"), plan.proven) == (problem["optimal_value"], True)


@pytest.mark.parametrize("seed", range(150))
def test_networkx_finds_no_cheaper_flow_on_a_small_night(seed):
    night = flat(tiny(random.Random(seed)))
    least, _flow = nx.network_simplex(network_of(night))
    assert cost_of(night, plan_night(night, criteria=CRITERIA)) == least


@pytest.mark.parametrize("seed", range(12))
def test_networkx_finds_no_cheaper_flow_on_a_club_evening(seed):
    night = flat(evening(seed, tables=4, people=8, plenty=0.5 + seed / 8))
    least, _flow = nx.network_simplex(network_of(night))
    plan = plan_night(night, criteria=CRITERIA)
    assert (cost_of(night, plan), plan.proven) == (least, True)
