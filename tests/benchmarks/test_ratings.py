"""How fast 100,000 games are rated, against a walk through them that does nothing but Elo's sum.

Run with `pytest tests/benchmarks/test_ratings.py --benchmark-only -s`; a plain run skips them.
"""

from __future__ import annotations

import time

import numpy as np
import pytest

from league.engines.ratings import RatedGame, logistic_expectation, rate, rerate

GAMES, PLAYERS = 100_000, 1_000
WORST_SECONDS = 3.0


def played(periods: int) -> list[RatedGame]:
    rng = np.random.default_rng(periods)
    first = rng.integers(0, PLAYERS, GAMES)
    second = (first + rng.integers(1, PLAYERS, GAMES)) % PLAYERS
    period, score_x2 = np.sort(rng.integers(0, periods, GAMES)), rng.integers(0, 3, GAMES)
    return [
        RatedGame(id=f"g{n:06}", period=p, first=f"p{a:04}", second=f"p{b:04}", score_x2=s)
        for n, (p, a, b, s) in enumerate(
            zip(period.tolist(), first.tolist(), second.tolist(), score_x2.tolist(), strict=True)
        )
    ]


def plain_elo(games: list[RatedGame]) -> dict[str, float]:
    ratings: dict[str, float] = {}
    for game in games:
        one, other = ratings.get(game.first, 1500.0), ratings.get(game.second, 1500.0)
        change = 20.0 * (game.score_x2 / 2 - logistic_expectation(one - other))
        ratings[game.first], ratings[game.second] = one + change, other - change
    return ratings


@pytest.mark.parametrize("periods", [12, 120, 520])
def test_rating_a_hundred_thousand_games(benchmark, periods):
    games = played(periods)
    history = benchmark.pedantic(rate, args=(games,), rounds=3, iterations=1)
    assert len(history.states) == periods
    began = time.perf_counter()
    plain_elo(games)
    bare = time.perf_counter() - began
    began = time.perf_counter()
    rerate(history, games, since=periods - 1)
    again = time.perf_counter() - began
    seconds = benchmark.stats.stats.min
    print(  # noqa: T201 - a benchmark says what it measured
        f"\n{GAMES:,} games in {periods} periods: {seconds:.2f} s, {seconds / bare:.1f} times plain Elo; "
        f"the last period again {again:.2f} s"
    )
    assert seconds < WORST_SECONDS
