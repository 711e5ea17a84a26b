"""How fast a turn's supply is solved, and the flow alone against networkx's network simplex at the same cost.

Run with `pytest tests/benchmarks/test_supply.py --benchmark-only -s`; a plain run skips them. Both solvers begin with
the same arrays of arcs, so what it takes either to build its own graph counts. Times are processor time of this
process, the best of some, so that other work on the machine does not count; wall time is printed too.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable

import networkx as nx
import pytest

from league.engines.maps import Map, Region, Road
from league.engines.supply import Force, Situation, Stock, distribute
from league.engines.supply.flow import Network
from league.engines.supply.ground import ground_of
from league.engines.supply.simplex import least_cost_flow

LEAST_RATIO = 10
WORST_SECONDS = 0.5


def timed(work: Callable[[], object], *, times: int) -> tuple[float, float]:
    """Processor and wall seconds, the best of some."""
    found = []
    for _ in range(times):
        wall, own = time.perf_counter(), time.process_time()
        work()
        found.append((time.process_time() - own, time.perf_counter() - wall))
    return min(each[0] for each in found), min(each[1] for each in found)


def say(words: str) -> None:
    print(f"\n{words}", end="")  # noqa: T201 - a benchmark says what it measured


def once(benchmark, work: Callable[[], object]) -> None:
    benchmark.pedantic(work, rounds=1, iterations=1)


def war(
    *,
    regions: int = 500,
    forces: int = 200,
    plenty: int = 1,
    need: int = 10,
    ranks: int = 5,
    sides: int = 1,
    seed: int = 1,
):
    """Regions strewn over the map, three roads to each on average, all between neighbours, from the shortest up."""
    dice = random.Random(seed)
    spots = [(dice.randrange(1001), dice.randrange(1001)) for _ in range(regions)]

    def apart(one: int, other: int) -> int:
        return (spots[one][0] - spots[other][0]) ** 2 + (spots[one][1] - spots[other][1]) ** 2

    pairs = {(min(range(each), key=lambda other, each=each: apart(each, other)), each) for each in range(1, regions)}
    near = sorted((apart(one, other), other, one) for one in range(regions) for other in range(one))
    for _, one, other in near:
        if len(pairs) == 3 * regions:
            break
        pairs.add((one, other))
    factions = [f"side{number}" for number in range(sides)]
    holders = {f"r{number:04}": factions[x * sides // 1001] for number, (x, _) in enumerate(spots)}
    keys = sorted(holders)
    return Situation(
        map=Map(
            name="Wide",
            regions=tuple(
                Region(key=key, name=key, terrain="open", x=x, y=y, produces=plenty * dice.choice([0] * 8 + [20, 40]))
                for key, (x, y) in zip(keys, spots, strict=True)
            ),
            roads=tuple(
                Road(
                    key=f"w{number:05}",
                    a=keys[one],
                    b=keys[other],
                    capacity=dice.randrange(2, 21),
                    loss=dice.randrange(11),
                )
                for number, (one, other) in enumerate(sorted(pairs))
            ),
        ),
        factions=tuple(factions),
        holders=holders,
        stocks=tuple(
            Stock(region=key, faction=holders[key], loads=plenty * dice.randrange(30))
            for key in dice.sample(keys, regions // 25)
        ),
        forces=tuple(
            Force(
                key=f"f{number:04}",
                name=str(number),
                faction=holders[region],
                region=region,
                need=dice.randrange(1, need + 1),
                importance=dice.randrange(1, ranks + 1),
            )
            for number in range(forces)
            for region in [dice.choice(keys)]
        ),
    )


def by_networkx(network: Network) -> int:
    """The cost of the best flow, by networkx, with the weights that say importance and loss at once."""
    graph = nx.MultiDiGraph()
    graph.add_edges_from(
        (tail, head, {"capacity": capacity, "weight": weight})
        for tail, head, capacity, weight in zip(
            network.tail.tolist(),
            network.head.tolist(),
            network.capacity.tolist(),
            network.weighed().tolist(),
            strict=True,
        )
    )
    cost, _ = nx.network_simplex(graph)
    return cost


WARS = {
    "every force supplied": {},
    "each its own importance": {"ranks": 200},
    "roads and stocks too small": {"need": 30},
    "roads too small by far": {"need": 200, "plenty": 5},
}


@pytest.mark.parametrize("kind", WARS)
def test_the_flow_is_ten_times_faster_than_networkx(benchmark, kind):
    situation = war(**WARS[kind])
    assert (len(situation.map.regions), len(situation.map.roads), len(situation.forces)) == (500, 1500, 200)
    network = ground_of(situation, "side0").network
    once(benchmark, lambda: least_cost_flow(network))
    fast, wall = timed(lambda: least_cost_flow(network), times=7)
    slow, _ = timed(lambda: by_networkx(network), times=3)
    assert by_networkx(network) == int(network.weighed() @ least_cost_flow(network))
    say(
        f"{kind}: networkx {slow * 1000:.0f} ms, ours {fast * 1000:.1f} ms ({wall * 1000:.1f} ms on the wall) "
        f"with its proof, {slow / fast:.1f} times faster at the same cost"
    )
    assert slow / fast > LEAST_RATIO


@pytest.mark.parametrize("sides", [1, 3])
@pytest.mark.parametrize("kind", WARS)
def test_a_turns_supply_with_all_its_reasons(benchmark, kind, sides):
    situation = war(**WARS[kind], sides=sides)
    once(benchmark, lambda: distribute(situation))
    seconds, wall = timed(lambda: distribute(situation), times=3)
    states = [each.state for each in distribute(situation).forces]
    say(
        f"{kind}, factions {sides}: {seconds * 1000:.0f} ms ({wall * 1000:.0f} ms on the wall), "
        f"{states.count('supplied')} supplied, {states.count('short')} short, {states.count('cut_off')} cut off"
    )
    assert seconds < WORST_SECONDS


def test_growth_with_the_size_of_the_map(benchmark):
    once(benchmark, lambda: distribute(war(regions=125, forces=50, need=30)))
    told = []
    for regions in (125, 250, 500, 1000, 2000):
        situation = war(regions=regions, forces=regions * 2 // 5, need=30)
        told.append((regions, timed(lambda situation=situation: distribute(situation), times=2)[0]))
    first = told[0][1]
    say("; ".join(f"{regions} regions {seconds * 1000:.0f} ms ({seconds / first:.1f}x)" for regions, seconds in told))
    assert told[2][1] < WORST_SECONDS
