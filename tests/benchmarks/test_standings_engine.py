"""How fast standings are, against the same sums written bare in numpy on the same columns.

Run with `pytest tests/benchmarks/test_standings_engine.py --benchmark-only -s`; a plain run skips them.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from league.engines.standings import (
    Appearances,
    Entrant,
    Game,
    Ledger,
    Rules,
    Side,
    TieBreak,
    standings,
    standings_of_ledger,
)

ROUNDS = 11
RULES = Rules(
    tie_breaks=tuple(
        TieBreak(name=name) for name in ("buchholz", "buchholz_cut1", "sonneborn_berger", "direct_encounter")
    )
)
WORST_RATIO = 5
WORST_SECONDS = 0.25
WORST_SECONDS_FROM_GAMES = 1.0


def columns(entrants: int) -> Appearances:
    """Everybody plays in every round, against somebody drawn anew, with scores from 0 to 20."""
    rng = np.random.default_rng(entrants)
    drawn = np.concatenate([rng.permutation(entrants) for _ in range(ROUNDS)])
    size = len(drawn)
    return Appearances(
        entrant=drawn,
        game=np.arange(size) // 2,
        round=np.repeat(np.arange(1, ROUNDS + 1), entrants),
        score=rng.integers(0, 21, size),
        scored=np.ones(size, dtype=np.bool_),
        stated=np.full(size, -1, dtype=np.int8),
        unplayed=np.zeros(size, dtype=np.int8),
        destroyed=np.zeros(size, dtype=np.int64),
        lost=np.zeros(size, dtype=np.int64),
        counts={},
    )


def ledger(entrants: int) -> Ledger:
    appearances = columns(entrants)
    ids = tuple(f"{number:06d}" for number in range(entrants))
    return Ledger.from_appearances(
        ids=ids,
        names=ids,
        left=np.zeros(entrants, dtype=np.bool_),
        game_ids=tuple(str(number) for number in range(len(appearances.game) // 2)),
        appearances=appearances,
    )


def bare(season: Ledger) -> NDArray[np.int64]:
    """Points, Buchholz, cut 1, Sonneborn-Berger and the points among those level, then one sort: nothing else."""
    owner, opponent, result = season.edge_owner, season.edge_opponent, season.edge_result.astype(np.int64)
    size = len(season.ids)
    points = np.bincount(owner, result, size).astype(np.int64)
    theirs = points[opponent]
    buchholz = np.bincount(owner, theirs, size).astype(np.int64)
    cut = buchholz - np.minimum.reduceat(theirs, season.edge_starts[:-1])
    berger = np.bincount(owner, theirs * result, size).astype(np.int64)
    level = np.lexsort((berger, cut, buchholz, points))
    keys = np.stack((points, buchholz, cut, berger))[:, level]
    group = np.empty(size, dtype=np.int64)
    group[level] = np.r_[0, np.cumsum((keys[:, 1:] != keys[:, :-1]).any(axis=0))]
    met = group[owner] == group[opponent]
    direct = np.bincount(owner[met], result[met], size).astype(np.int64)
    return np.lexsort((direct, group))[::-1]


def report(line: str) -> None:
    sys.stdout.write(line + "\n")


def best_of(work: Callable[[], object], times: int = 7) -> float:
    seconds = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        seconds.append(time.perf_counter() - start)
    return min(seconds)


def test_a_big_season_is_ranked_about_as_fast_as_bare_sums(benchmark) -> None:
    season = ledger(10_000)
    benchmark(standings_of_ledger, season, RULES)
    ours, floor = best_of(lambda: standings_of_ledger(season, RULES)), best_of(lambda: bare(season))
    report(f"\n10,000 x {ROUNDS}: {ours * 1000:.1f} ms, bare sums {floor * 1000:.1f} ms, {ours / floor:.1f} times")
    assert ours <= WORST_RATIO * floor
    assert ours <= WORST_SECONDS


def test_the_time_grows_with_the_size(benchmark) -> None:
    sizes = (1_000, 10_000, 100_000)
    seasons = {size: ledger(size) for size in sizes}
    benchmark.pedantic(standings_of_ledger, args=(seasons[100_000], RULES), rounds=3)
    seconds = {size: best_of(lambda s=season: standings_of_ledger(s, RULES)) for size, season in seasons.items()}
    report("\n" + ", ".join(f"{size:,}: {1000 * value:.1f} ms" for size, value in seconds.items()))
    # A hundred times the size: sorting alone grows by 1.7 beyond that, and the small season sits in the caches.
    assert seconds[100_000] <= 100 * 4 * seconds[1_000]


def test_a_season_told_in_dataclasses_takes_under_a_second(benchmark) -> None:
    appearances = columns(10_000)
    entrants = [Entrant(id=str(number)) for number in range(10_000)]
    names, scores = appearances.entrant.tolist(), appearances.score.tolist()
    games = [
        Game(
            id=str(one),
            round=one * 2 // 10_000 + 1,
            sides=tuple(Side(entrant_id=str(names[i]), score=scores[i]) for i in (2 * one, 2 * one + 1)),
        )
        for one in range(len(names) // 2)
    ]
    benchmark.pedantic(lambda: standings(entrants, games, rules=RULES), rounds=3)
    seconds = best_of(lambda: standings(entrants, games, rules=RULES), times=3)
    with_rows = best_of(lambda: standings(entrants, games, rules=RULES).rows, times=1)
    report(f"\n10,000 x {ROUNDS} from dataclasses: {seconds:.2f} s, with all rows {with_rows:.2f} s")
    assert seconds <= WORST_SECONDS_FROM_GAMES
