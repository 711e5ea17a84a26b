"""How fast a night is planned: by flow for what is missing and what stands in, exactly for who carries.

Run with `pytest tests/benchmarks/test_kit_plan.py --benchmark-only -s`; a plain run skips them. Times are processor time
of this process, so that other work on the machine does not count; wall time is printed too. Evenings are made at random
as a club would have them, with over sixty kinds of item.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import networkx as nx
import pytest

from league.engines.kit.model import Night
from league.engines.kit.plan import Criterion, Plan, plan_night
from tests.engines.kit.club_evening import evening
from tests.engines.kit.networks import cost_of, flat, network_of

LEAST_RATIO = 10
FLOW: tuple[Criterion, ...] = ("shortfall", "stand_ins")
# Whoever carries anything, before and after whose table it is for: by the first few carry for many.
FEWEST: dict[str, tuple[Criterion, ...]] = {
    "before own table": (*FLOW, "carriers"),
    "after own table": (*FLOW, "changes", "own_table", "carriers"),
}
WITHIN = 0.01


def say(words: str) -> None:
    print(f"\n{words}", end="")  # noqa: T201 - a benchmark says what it measured


def timed(work: Callable[[], object]) -> tuple[float, float]:
    """Processor and wall seconds."""
    wall, own = time.perf_counter(), time.process_time()
    work()
    return time.process_time() - own, time.perf_counter() - wall


def planned(benchmark, night: Night, criteria: tuple[Criterion, ...], seconds: float) -> tuple[Plan, float, float]:
    plans: list[Plan] = []
    seen: list[tuple[float, float]] = []

    def work() -> None:
        seen.append(timed(lambda: plans.append(plan_night(night, criteria=criteria, seconds=seconds))))

    benchmark.pedantic(work, rounds=1, iterations=1)
    return plans[0], *seen[0]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_two_hundred_tables_are_served_as_well_as_can_be_in_five_seconds(benchmark, seed):
    night = evening(seed, tables=200, people=400)
    assert len({supply.good for supply in night.supplies}) >= 60
    plan, seconds, wall = planned(benchmark, night, FLOW, 30)
    levels = ", ".join(f"{each.level} {each.value}" for each in plan.values)
    say(f"200 tables, 400 people, {len(night.supplies)} holdings: {seconds:.2f} s ({wall:.2f} s on the wall); {levels}")
    assert plan.proven
    assert seconds < 5


@pytest.mark.parametrize("tables", [75, 100])
def test_the_flow_is_ten_times_faster_than_networkx_at_the_same_cost(benchmark, tables):
    """Both have the same evening: networkx as a transport problem of holdings and demands, the plan with all its checks
    and proofs. Given the heaps that the plan makes of holdings, networkx is quick too; that time is printed beside it.
    """
    night = flat(evening(1, tables=tables, people=2 * tables))
    plan, fast, _wall = planned(benchmark, night, FLOW, 30)
    graph, found = network_of(night, by_holding=True), []
    slow, _ = timed(lambda: found.append(nx.network_simplex(graph)[0]))
    heaps, _ = timed(lambda: found.append(nx.network_simplex(network_of(night))[0]))
    say(
        f"{tables} tables, {graph.number_of_edges()} arcs: networkx {slow:.2f} s, the plan with its proofs {fast:.2f} s,"
        f" {slow / fast:.0f} times faster (networkx on the plan's heaps {heaps:.2f} s)"
    )
    assert found == [cost_of(night, plan)] * 2
    assert slow / fast > LEAST_RATIO


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("order", FEWEST)
def test_the_fewest_who_carry_for_twenty_tables_are_proven_in_three_seconds(benchmark, order, seed):
    plan, seconds, wall = planned(benchmark, evening(seed, tables=20, people=40), FEWEST[order], 30)
    say(f"20 tables, {order}: {plan.value('carriers')} carry; {seconds:.2f} s ({wall:.2f} s on the wall)")
    assert plan.proven
    assert seconds < 3


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("order", FEWEST)
def test_the_fewest_who_carry_for_fifty_tables_are_within_a_hundredth_in_ten_seconds(benchmark, order, seed):
    plan, seconds, wall = planned(benchmark, evening(seed, tables=50, people=100), FEWEST[order], 10)
    (told,) = [each for each in plan.values if each.level == "carriers"]
    say(
        f"50 tables, {order}: {told.value} carry, {told.bound} at least ({float(told.gap):.2%} open); {seconds:.2f} s "
        f"({wall:.2f} s on the wall)"
    )
    assert told.gap <= WITHIN
    assert seconds < 10


@pytest.mark.parametrize(("tables", "seconds"), [(6, 5), (12, 5), (20, 10), (50, 10)])
def test_a_whole_plan_by_all_criteria(benchmark, tables, seconds):
    """What is packed and whether it fits the bags comes last and is the hardest; what is not proven says how far off."""
    plan, own, _wall = planned(benchmark, evening(1, tables=tables, people=2 * tables), tuple(ALL), seconds)
    gaps = ", ".join(f"{each.level} {float(each.gap):.1%}" for each in plan.values if each.gap)
    say(f"{tables} tables, all criteria: {own:.2f} s; open: {gaps or 'nothing'}")
    assert [each.proof for each in plan.values if each.criterion in FLOW] == ["integers"] * 5


ALL: tuple[Criterion, ...] = (*FLOW, "changes", "own_table", "carriers", "lines", "capacity", "pieces")
