"""Elo's curves and his arithmetic.

Sources: tests/reference/ratings/README.md (Elo's curve in two digits; a worked example with K = 32, from memory; FIDE
Rating Regulations, table 8.1.2).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from league.engines.ratings import elo, logistic_expectation, normal_expectation

REFERENCE = Path(__file__).parents[2] / "reference/ratings"
ELO = json.loads((REFERENCE / "rating_examples.json").read_text(encoding="utf-8"))["elo"]
FIDE = json.loads((REFERENCE / "fide_tables.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize(("difference", "expected"), ELO["published_two_digits"].items())
def test_the_logistic_curve_is_the_published_one(difference, expected):
    assert logistic_expectation(float(difference)) == pytest.approx(expected, abs=0.005)


def test_the_worked_example_comes_out_as_printed():
    example = ELO["worked"]
    assert (
        round(elo(example["rating"], [tuple(game) for game in example["games"]], k=example["K"]))
        == (example["new_rating"])
    )


@pytest.mark.parametrize(("low", "high", "stronger", "weaker"), FIDE["table_8_1_2"]["rows"])
def test_the_normal_curve_is_fides_table(low, high, stronger, weaker):
    """Within the half of a hundredth the table is rounded to, and the slip of a point or two at the ends of its rows."""
    for difference in {low, low if high is None else high}:
        assert normal_expectation(difference) == pytest.approx(stronger, abs=0.006)
        assert normal_expectation(-difference) == pytest.approx(weaker, abs=0.006)
