"""Wilson's interval and Bradley-Terry fits as published.

Sources: tests/reference/statistics/README.md and tests/reference/ratings/README.md.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from league.engines.balance import SidedGame, fit, wilson

REFERENCE = Path(__file__).parents[2] / "reference"
WILSON = json.loads((REFERENCE / "statistics/wilson.json").read_text(encoding="utf-8"))
EXAMPLES = json.loads((REFERENCE / "ratings/rating_examples.json").read_text(encoding="utf-8"))


def games_of(names: Any, wins: list[list[int]]) -> list[SidedGame]:
    return [
        SidedGame(id=f"{one}-{other}-{n}", first=names[one], second=names[other], score_x2=2)
        for one, row in enumerate(wins)
        for other, times in enumerate(row)
        for n in range(times)
    ]


@pytest.mark.parametrize("row", WILSON["wilson_95"], ids=lambda row: f"{row['k']} of {row['n']}")
def test_wilsons_interval_is_newcombes(row):
    plain, corrected = wilson(row["k"], row["n"]), wilson(row["k"], row["n"], corrected=True)
    assert [round(plain.low, 4), round(plain.high, 4)] == row["wilson"]
    assert [round(corrected.low, 4), round(corrected.high, 4)] == row["wilson_cc"]


@pytest.mark.parametrize("row", WILSON["wilson_more"], ids=lambda row: f"{row['k']} of {row['n']}")
def test_wilsons_interval_is_that_of_other_programs(row):
    ours = wilson(row["k"], row["n"])
    assert [ours.low, ours.high] == pytest.approx(row["wilson"], abs=1e-7)


def test_the_confidence_asked_for_is_given():
    """A one-sided bound at 95 % is the same end of a two-sided interval at 90 %."""
    row = WILSON["wilson_more"][1]
    ours = wilson(row["k"], row["n"], confidence=0.9)
    assert ours.low == pytest.approx(row["one_sided_lower_95"], abs=1e-6)
    assert ours.high == pytest.approx(row["one_sided_upper_95"], abs=1e-6)


def test_the_baseball_teams_are_as_strong_as_agresti_found():
    example = EXAMPLES["bradley_terry_agresti"]
    found = fit(games_of(example["teams"], example["wins_row_over_column"]), prior=None)
    last = next(one.estimate for one in found.strengths if one.player == "Baltimore")
    ours = {one.player: round(one.estimate - last, 2) for one in found.strengths}
    assert ours == dict(zip(example["teams"], example["published_log_strength"], strict=True))


def test_the_four_players_are_as_strong_as_printed():
    """The printed values are of the 20th pass of a slower method, in three digits."""
    example = EXAMPLES["bradley_terry_wikipedia"]
    found = fit(games_of(example["players"], example["wins_row_over_column"]), prior=None)
    ours = {one.player: math.exp(one.estimate) for one in found.strengths}
    assert [ours[player] for player in "ABCD"] == pytest.approx(example["after_20_passes"], abs=0.002)
