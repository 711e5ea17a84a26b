"""How fast a round is drafted, and the matching alone against networkx on the same graph with the same weights.

Run with `pytest tests/benchmarks/test_pairing.py --benchmark-only -s`; a plain run skips them. Both graphs are
built before the clock starts. Times are processor time of this process, the best of three, so that other work on the
machine does not count; wall time is printed too.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import networkx as nx
import numpy as np
import pytest

from league.engines.pairing import CRITERIA, pair_swiss
from league.engines.pairing.field import field_of, strongest_of
from league.engines.pairing.matching import Level, graph_of, matching_of, pack
from tests.engines.pairing.crowd import after
from tests.engines.pairing.test_simulated_season import a_season_with_trouble, check

ROUNDS = 8
TIMES = 3
LEAST_RATIO = 50
WORST_SECONDS = {250: 0.5, 500: 0.7, 1_000: 1.0, 2_000: 4.0}
SEASONS = 200


def timed(work: Callable[[], object], *, times: int = TIMES) -> tuple[float, float]:
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


@pytest.mark.parametrize("seed", [1, 2])
def test_the_matching_is_fifty_times_faster_than_networkx(benchmark, seed):
    players = after(ROUNDS, 256, seed=seed)
    field = field_of(players, CRITERIA, strongest_of(players, "s"), "s")
    first, second = (side.astype(np.int64) for side in np.triu_indices(field.vertices, 1))
    levels = [Level(costs=field.costs(name, first, second), at_most=field.at_most(name)) for name in CRITERIA]
    weights = pack(levels, len(first)).weights
    graph: nx.Graph = nx.Graph()
    graph.add_weighted_edges_from(
        (one, other, max(weights) + 1 - weight)
        for one, other, weight in zip(first.tolist(), second.tolist(), weights, strict=True)
    )
    theirs: set[tuple[int, int]] = set()
    slow, _ = timed(lambda: theirs.update(nx.max_weight_matching(graph, maxcardinality=True)), times=1)
    ready = graph_of(field.vertices, first, second, weights)
    once(benchmark, lambda: matching_of(ready))
    fast, _ = timed(lambda: matching_of(ready), times=5)
    by_pair = dict(zip(zip(first.tolist(), second.tolist(), strict=True), weights, strict=True))
    ours = matching_of(ready)
    assert sum(by_pair[pair] for pair in ours) == sum(by_pair[min(pair), max(pair)] for pair in theirs)
    say(f"256 entrants, {len(first)} pairs: networkx {slow:.2f} s, ours {fast:.4f} s, {slow / fast:.0f} times faster")
    assert slow / fast > LEAST_RATIO


@pytest.mark.parametrize("rounds", [ROUNDS - 1, ROUNDS])
@pytest.mark.parametrize("entrants", sorted(WORST_SECONDS))
@pytest.mark.parametrize("crowd", ["win_draw_loss", "wins_only", "scores_to_20", "odd", "odd_to_20"])
def test_a_round_with_all_criteria_and_reasons(benchmark, entrants, crowd, rounds):
    """After an odd number of rounds nobody's roles are in balance, and many pairings cost something."""
    kinds = {
        "win_draw_loss": {},
        "wins_only": {"wins_only": True},
        "scores_to_20": {"scale": 20},
        "odd": {},
        "odd_to_20": {"scale": 20},
    }
    players = after(rounds, entrants + crowd.startswith("odd"), **kinds[crowd])
    once(benchmark, lambda: pair_swiss(players, seed="s"))
    seconds, wall = timed(lambda: pair_swiss(players, seed="s"))
    search = pair_swiss(players, seed="s").search
    say(
        f"{len(players)} entrants, {rounds} rounds, {crowd}: {seconds:.2f} s ({wall:.2f} s on the wall), "
        f"{search.examined} of {search.possible} pairs compared"
    )
    assert search.exact
    assert seconds < WORST_SECONDS[entrants]


def test_two_hundred_seasons_of_seven_rounds(benchmark):
    def play() -> None:
        for seed in range(SEASONS):
            check(a_season_with_trouble(seed))

    once(benchmark, play)
    say(f"{SEASONS} seasons of seven rounds of 64: {benchmark.stats.stats.min:.1f} s")
