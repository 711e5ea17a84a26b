"""How forecasts are judged, on cases worked by hand and on real matches.

Source of the matches: martj42/international_results, CC0 1.0 (tests/reference/ratings/README.md).
"""

from __future__ import annotations

import csv
import math
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from league.engines.ratings import BadGames, Forecasts, RatedGame, quality, rate

MATCHES = Path(__file__).parents[2] / "reference/ratings/international_football.csv"


def forecasts(*pairs: tuple[float, float]) -> Forecasts:
    expected, score = zip(*pairs, strict=True)
    return Forecasts(game_ids=tuple(map(str, range(len(pairs)))), expected=np.array(expected), score=np.array(score))


def test_log_loss_and_brier_are_what_their_formulas_say():
    """By hand: -(ln 0.8 + ln 0.6) / 2 and (0.2 squared + 0.4 squared) / 2."""
    found = quality(forecasts((0.8, 1.0), (0.4, 0.0)))
    assert found.log_loss == pytest.approx(-(math.log(0.8) + math.log(0.6)) / 2)
    assert found.brier == pytest.approx(0.1)


def test_the_base_rate_is_the_mean_score_of_the_first_side():
    found = quality(forecasts((0.5, 1.0), (0.5, 1.0), (0.5, 0.5), (0.5, 0.5)))
    assert found.base_rate == 0.75
    assert found.base_log_loss == pytest.approx(-(0.75 * math.log(0.75) + 0.25 * math.log(0.25)))
    assert not found.beats_the_base_rate


def test_games_fall_into_bins_by_what_was_expected():
    found = quality(forecasts((0.15, 0.0), (0.19, 1.0), (1.0, 1.0)), bins=10)
    assert [(one.low, one.high, one.games, one.scored) for one in found.bins] == [
        (0.1, 0.2, 2, 0.5),
        (0.9, 1.0, 1, 1.0),
    ]


def test_there_is_no_quality_without_games():
    assert quality(Forecasts(game_ids=(), expected=np.zeros(0), score=np.zeros(0))) is None


def test_an_impossible_expectation_is_refused():
    with pytest.raises(BadGames, match="between 0 and 1"):
        quality(forecasts((1.2, 1.0)))


@pytest.fixture(scope="module")
def of_real_matches():
    """Twelve-week periods; the first three years are for getting to know the teams."""
    games = []
    with MATCHES.open(encoding="utf-8") as lines:
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        for number, row in enumerate(rows):
            day = date(int(row["date"][:4]), int(row["date"][4:6]), int(row["date"][6:]))
            goals = int(row["hg"]) - int(row["ag"])
            games.append(
                RatedGame(
                    id=f"{number:05}",
                    period=day.toordinal() // 84,
                    first=row["home"],
                    second=row["away"],
                    score_x2=(goals > 0) - (goals < 0) + 1,
                )
            )
    history = rate(games)
    told = history.forecasts()
    known = np.array([int(game_id) for game_id in told.game_ids]) > 1_000
    return quality(
        Forecasts(
            game_ids=tuple(np.array(told.game_ids)[known].tolist()),
            expected=told.expected[known],
            score=told.score[known],
        )
    )


def test_on_real_matches_the_ratings_foretell_more_than_the_base_rate(of_real_matches):
    assert of_real_matches.log_loss < 0.9 * of_real_matches.base_log_loss
    assert of_real_matches.brier < 0.8 * of_real_matches.base_brier


def test_on_real_matches_who_is_expected_to_score_more_does(of_real_matches):
    scored = [one.scored for one in of_real_matches.bins]
    assert scored == sorted(scored)
