"""How fast a season is foretold, against the same dice thrown and added up without ranking anybody.

Run with `pytest tests/benchmarks/test_forecast.py --benchmark-only -s`; a plain run skips them.
"""

from __future__ import annotations

import time
import tracemalloc
from itertools import combinations

import numpy as np
import pytest

from league.engines.forecast import Fixture, Outlook, needs_of, odds, outlook_of, prospects
from league.engines.standings import Entrant, Game, Rules, Scheme, Side

ENTRANTS, OPEN_GAMES, SEASONS = 40, 100, 100_000
WORST_SECONDS = 2.0
WORST_BYTES = 2**30
WORST_SECONDS_FOR_CERTAINTY = 15.0


def outlook(entrants: int, open_games: int, *, rounds_to_draw: int = 0) -> Outlook:
    """A league of everybody against everybody in which so many games are still open."""
    rng = np.random.default_rng(entrants)
    pairs = rng.permutation(list(combinations(range(entrants), 2))).tolist()
    cut = len(pairs) - open_games
    games = [
        Game(
            id=f"g{n}",
            sides=tuple(Side(entrant_id=f"e{one:02}", score=int(rng.integers(0, 12)) + one // 8) for one in pair),
        )
        for n, pair in enumerate(pairs[:cut])
    ]
    return outlook_of(
        [Entrant(id=f"e{one:02}") for one in range(entrants)],
        games,
        rules=Rules(scheme=Scheme(win_x2=6, draw_x2=2)),
        fixtures=[Fixture(id=f"f{n}", first=f"e{a:02}", second=f"e{b:02}") for n, (a, b) in enumerate(pairs[cut:])],
        rounds_to_draw=rounds_to_draw,
    )


def bare(season: Outlook, rng: np.random.Generator) -> np.ndarray:
    points = np.zeros((SEASONS, len(season.ids)), dtype=np.int64)
    for first, second in season.sides:
        thrown = rng.random(SEASONS)
        points[:, first] += np.where(thrown < 0.4, 6, np.where(thrown < 0.6, 2, 0))
        points[:, second] += np.where(thrown < 0.4, 0, np.where(thrown < 0.6, 2, 6))
    return points


def test_a_hundred_thousand_seasons(benchmark):
    season = outlook(ENTRANTS, OPEN_GAMES)
    found = benchmark.pedantic(
        lambda: odds(season, rng=np.random.default_rng(1), seasons=SEASONS), rounds=3, iterations=1
    )
    assert found.seasons == SEASONS
    began = time.perf_counter()
    bare(season, np.random.default_rng(1))
    reference = time.perf_counter() - began
    tracemalloc.start()
    odds(season, rng=np.random.default_rng(1), seasons=SEASONS)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    seconds = benchmark.stats.stats.min
    print(  # noqa: T201 - a benchmark says what it measured
        f"\n{SEASONS:,} seasons of {ENTRANTS} with {OPEN_GAMES} open games: {seconds:.2f} s, "
        f"{seconds / reference:.1f} times the bare dice, {peak / 2**20:.0f} MiB"
    )
    assert seconds < WORST_SECONDS
    assert peak < WORST_BYTES


@pytest.mark.parametrize("rounds_to_draw", [1, 3])
def test_seasons_with_rounds_to_draw(benchmark, rounds_to_draw):
    season = outlook(ENTRANTS, 0, rounds_to_draw=rounds_to_draw)
    benchmark.pedantic(lambda: odds(season, rng=np.random.default_rng(1), seasons=20_000), rounds=3, iterations=1)
    print(f"\n20,000 seasons with {rounds_to_draw} rounds to draw: {benchmark.stats.stats.min:.2f} s")  # noqa: T201


@pytest.mark.parametrize(
    ("entrants", "open_games", "most_undecided"), [(10, 15, 0), (20, 60, 0), (40, 100, 0), (40, 300, 8)]
)
def test_who_is_through_for_certain(benchmark, entrants, open_games, most_undecided):
    season = outlook(entrants, open_games)
    found = benchmark.pedantic(prospects, args=(season,), rounds=1, iterations=1)
    bounds = [each for one in found for each in (one.best, one.best_outright, one.worst_if_ties_help, one.worst)]
    unknown = sum(not each.known for each in bounds)
    seconds = benchmark.stats.stats.min
    print(  # noqa: T201 - a benchmark says what it measured
        f"\n{entrants} entrants, {open_games} open games: {seconds:.2f} s, {unknown} of {len(bounds)} places undecided"
    )
    assert unknown <= most_undecided
    assert seconds < WORST_SECONDS_FOR_CERTAINTY


def test_what_everybody_needs_before_the_last_round(benchmark):
    season = outlook(20, 10)
    benchmark.pedantic(lambda: [needs_of(season, one, places=3) for one in season.ids], rounds=1, iterations=1)
    print(f"\nwhat 20 need, 10 games open: {benchmark.stats.stats.min:.2f} s")  # noqa: T201
