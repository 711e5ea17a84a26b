"""How many are enough: laws, a simulation, and exactness."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.engines.kit.stock import PerTable, Prior, convolved, per_table, triangular

FEW = triangular(least=2, usual=8, most=16, worth=5, words="common practice, no source")
weights = st.lists(st.integers(0, 50), min_size=1, max_size=8).filter(any).map(tuple)


def test_without_reports_the_prior_is_all_there_is():
    club = per_table([], prior=FEW)
    assert club.share(8) == Fraction(dict(FEW.weights)[8], sum(weight for _, weight in FEW.weights))
    assert club.share(1) == club.share(17) == 0


def test_after_as_many_reports_as_the_prior_is_worth_both_count_the_same():
    club = per_table([20] * 5, prior=FEW)
    assert club.share(20) == Fraction(1, 2)


def test_many_reports_outweigh_the_prior():
    assert per_table([10] * 995, prior=FEW).share(10) > Fraction(99, 100)


def test_the_order_of_reports_does_not_matter():
    assert per_table([3, 9, 4], prior=FEW) == per_table([9, 4, 3], prior=FEW)


def test_enough_for_no_table_is_nothing():
    assert per_table([5], prior=FEW).enough_for(0, Fraction(1)) == 0


def test_certainty_takes_the_most_that_was_ever_likely_at_every_table():
    assert per_table([20], prior=FEW).enough_for(3, Fraction(1)) == 60


def test_one_less_than_enough_is_not_enough():
    club = per_table([7, 9, 12, 6, 8], prior=FEW)
    enough = club.enough_for(6, Fraction(95, 100))
    assert club.chance_that(enough, 6) >= Fraction(95, 100) > club.chance_that(enough - 1, 6)


@given(weights, st.integers(0, 5), st.fractions(Fraction(1, 1000), 1))
def test_the_curve_rises_to_certainty_and_is_crossed_where_enough_says(shares, tables, chance):
    club = PerTable(weights=shares)
    curve = club.curve(tables)
    assert [step.chance for step in curve] == sorted(step.chance for step in curve)
    assert curve[-1].chance == 1
    assert next(step.stock for step in curve if step.chance >= chance) == club.enough_for(tables, chance)


@given(weights, st.integers(0, 4), st.integers(0, 4))
def test_two_halls_of_tables_add_up_to_one(shares, here, there):
    one, other = convolved(shares, here), convolved(shares, there)
    together = [0] * (len(one) + len(other) - 1)
    for at, weight in enumerate(one):
        for too, more in enumerate(other):
            together[at + too] += weight * more
    assert tuple(together) == convolved(shares, here + there)


def test_a_simulation_runs_out_as_often_as_foretold():
    """40,000 nights of six tables; the share lies within four standard deviations of the exact chance."""
    club = per_table([7, 9, 12, 6, 8, 8, 10, 5], prior=FEW)
    enough = club.enough_for(6, Fraction(95, 100))
    dice, nights = random.Random(11), 40_000
    peaks = range(len(club.weights))
    enough_times = sum(sum(dice.choices(peaks, club.weights, k=6)) <= enough for _ in range(nights))
    exact = float(club.chance_that(enough, 6))
    assert abs(enough_times / nights - exact) < 4 * (exact * (1 - exact) / nights) ** 0.5


def test_a_hundred_tables_are_counted_out_exactly():
    club = per_table([7, 9, 12, 6, 8, 8, 10, 5], prior=FEW)
    assert sum(convolved(club.weights, 100)) == sum(club.weights) ** 100


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (lambda: per_table([-1], prior=FEW), "A peak is from 0 to 1000"),
        (lambda: per_table([1001], prior=FEW), "A peak is from 0 to 1000"),
        (lambda: Prior(weights=(), worth=1), "not all 0"),
        (lambda: Prior(weights=((1, 0),), worth=1), "not all 0"),
        (lambda: Prior(weights=((1, 1), (1, 2)), worth=1), "each once"),
        (lambda: Prior(weights=((1, 1),), worth=0), "worth one report or more"),
        (lambda: triangular(least=3, usual=2, most=4, worth=1), "follow each other"),
        (lambda: per_table([], prior=FEW).enough_for(2, Fraction(0)), "above 0 and at most 1"),
        (lambda: per_table([], prior=FEW).chance_that(2, -1), "from 0 to 200 tables"),
    ],
)
def test_nonsense_is_refused(wrong, words):
    with pytest.raises(ValueError, match=words):
        wrong()
