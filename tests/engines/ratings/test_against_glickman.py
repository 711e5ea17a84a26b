"""The worked examples of Glicko-2 and Glicko.

Source: M. E. Glickman, Boston University (tests/reference/ratings/README.md). The paper rounds as it goes; the
unrounded values were computed from it at full precision.
"""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest

from league.engines.ratings import RatedGame, Rating, State, expected_score, rate

EXAMPLES = json.loads(
    (Path(__file__).parents[2] / "reference/ratings/rating_examples.json").read_text(encoding="utf-8")
)
GLICKO2, GLICKO1 = EXAMPLES["glicko2"], EXAMPLES["glicko1"]


@pytest.fixture
def before() -> State:
    """The four players of the example, at the end of period 0."""
    opponents = GLICKO2["input"]["games"]
    none = np.zeros(0)
    return State(
        period=0,
        players=("hero", "opponent 0", "opponent 1", "opponent 2"),
        rating=np.array([1500.0, *(game["opponent_rating"] for game in opponents)]),
        deviation=np.array([200.0, *(game["opponent_RD"] for game in opponents)]),
        volatility=np.full(4, 0.06),
        games=np.zeros(4, dtype=np.int64),
        game_ids=(),
        expected=none,
        score=none,
    )


@pytest.fixture
def games() -> list[RatedGame]:
    return [
        RatedGame(id=f"g{n}", period=1, first="hero", second=f"opponent {n}", score_x2=2 * game["score"])
        for n, game in enumerate(GLICKO2["input"]["games"])
    ]


def test_the_worked_example_comes_out_as_printed(before, games):
    hero = rate(games, start=before).last.of("hero")
    assert hero.rating == pytest.approx(GLICKO2["published"]["rating_new"], abs=0.02)
    assert hero.deviation == pytest.approx(GLICKO2["published"]["RD_new"], abs=0.02)
    assert hero.volatility == pytest.approx(GLICKO2["published"]["sigma_new"], abs=1e-5)


def test_the_worked_example_comes_out_to_six_digits(before, games):
    hero = rate(games, start=before).last.of("hero")
    exact = GLICKO2["full_precision"]
    assert hero.rating == pytest.approx(exact["rating_new"], abs=1e-6)
    assert hero.deviation == pytest.approx(exact["RD_new"], abs=1e-6)
    assert hero.volatility == pytest.approx(exact["sigma_new"], abs=1e-6)


def test_who_does_not_play_is_only_less_known(before):
    """Step 6 of the paper: phi grows to the root of phi squared and sigma squared; nothing else changes."""
    hero = rate([], start=before, through=1).last.of("hero")
    assert (hero.rating, hero.volatility) == (1500.0, 0.06)
    assert hero.deviation == pytest.approx(math.hypot(200 / 173.7178, 0.06) * 173.7178)


def test_the_side_a_game_is_told_from_is_of_no_account(before, games):
    turned = [
        RatedGame(id=game.id, period=1, first=game.second, second=game.first, score_x2=2 - game.score_x2)
        for game in games
    ]
    assert rate(turned, start=before).last.of("hero").rating == pytest.approx(
        rate(games, start=before).last.of("hero").rating, abs=1e-9
    )


def test_the_expected_score_allows_for_both_deviations():
    """The example of two players in "The Glicko system": 1400 (80) against 1500 (150)."""
    example = GLICKO1["expected_score_example"]
    (rating, deviation), (other_rating, other_deviation) = example["a"], example["b"]
    ours = expected_score(
        Rating(rating=rating, deviation=deviation), Rating(rating=other_rating, deviation=other_deviation)
    )
    assert round(ours, 3) == example["E"]
    assert ours == pytest.approx(example["full"], abs=1e-6)
