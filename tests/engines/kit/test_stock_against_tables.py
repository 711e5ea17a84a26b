"""The exact sums against printed tables of dice, scipy's convolution and binomial, and worked examples of stock."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from scipy import signal, stats

from league.engines.kit.stock import PerTable, convolved, per_table, triangular

PRINTED = json.loads(
    (Path(__file__).parents[2] / "reference" / "statistics" / "sums_and_stock.json").read_text(encoding="utf-8")
)
DIE = (0, 1, 1, 1, 1, 1, 1)


@pytest.mark.parametrize(("dice", "ways"), PRINTED["dice_sums"].items())
def test_sums_of_dice(dice, ways):
    number = int(dice.removesuffix("d6"))
    found = convolved(DIE, number)
    assert {str(total): count for total, count in enumerate(found) if count} == ways


@pytest.mark.parametrize(
    ("dice", "target", "successes", "numerator", "denominator", "_"), PRINTED["at_least_k_successes"]["rows"]
)
def test_at_least_so_many_successes(dice, target, successes, numerator, denominator, _):
    """A die is a table that uses one piece when it shows the target or more."""
    one = PerTable(weights=(target - 1, 7 - target))
    assert 1 - one.chance_that(successes - 1, dice) == Fraction(numerator, denominator)


def test_as_scipy_convolves():
    club = per_table([7, 9, 12, 6, 8, 8, 10, 5], prior=triangular(least=2, usual=8, most=16, worth=5))
    one = np.asarray(club.weights) / sum(club.weights)
    theirs = one
    for _ in range(5):
        theirs = signal.convolve(theirs, one, method="direct")
    ours = [float(club.chance_that(stock, 6)) for stock in range(len(theirs))]
    assert ours == pytest.approx(np.cumsum(theirs).tolist(), abs=1e-12)


@pytest.mark.parametrize("tables", [1, 10, 60])
def test_as_scipy_counts_a_binomial(tables):
    ours = [float(step.chance) for step in PerTable(weights=(3, 1)).curve(tables)]
    assert ours == pytest.approx(stats.binom.cdf(range(tables + 1), tables, 0.25).tolist(), abs=1e-12)


def test_the_newsvendor_with_even_demand():
    """Price 7, cost 5, demand evenly from 50 to 80: about 59."""
    example = next(each for each in PRINTED["newsvendor"] if "uniform" in each)
    fractile = Fraction(example["price"] - example["cost"], example["price"])
    even = PerTable(weights=(0,) * 51 + (1,) * 30)  # whole numbers above 50, up to 80
    assert even.enough_for(1, fractile) == 59
    assert example["uniform"]["published"] == "approximately 59"


def test_the_bookstore_with_triangular_demand():
    """Cost 7.5, price 10, refund 2.5, demand triangular from 100 over 175 to 300: 170.7, so 171 calendars."""
    example = next(each for each in PRINTED["newsvendor"] if each["name"].startswith("Walton"))
    fractile = Fraction(1, 3)
    assert float(fractile) == pytest.approx(example["critical_fractile"], abs=1e-6)
    # Between 100 and 300 and nothing at the ends, as in the continuous one.
    shop = per_table([], prior=triangular(least=101, usual=175, most=299, worth=1))
    assert shop.enough_for(1, fractile) == 171 == round(example["q"] + 0.5 - 1e-9)
