"""The exact chances against every path walked one by one, and what they promise."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.engines.attrition import Fit, Side, prospect


def walked(first, second, exponent):
    """Every end of a battle in exact fractions, by walking from state to state."""
    ends = defaultdict(Fraction)
    todo = {(first.figures, second.figures): Fraction(1)}
    while todo:
        after = defaultdict(Fraction)
        for (i, j), chance in todo.items():
            if i <= first.stops_at or j <= second.stops_at:
                ends["second" if i <= first.stops_at else "first", first.figures - i, second.figures - j] += chance
                continue
            fire, answer = Fraction(first.power) * i**exponent, Fraction(second.power) * j**exponent
            after[i, j - 1] += chance * fire / (fire + answer)
            after[i - 1, j] += chance * answer / (fire + answer)
        todo = after
    return ends


sides = st.tuples(st.integers(1, 7), st.sampled_from([1, 2, 3]), st.integers(0, 6)).map(
    lambda row: Side(figures=row[0], power=float(row[1]), stops_at=min(row[2], row[0] - 1))
)


@given(sides, sides, st.sampled_from([0, 1]))
def test_the_chances_are_those_of_every_path_walked(first, second, exponent):
    told = prospect(first, second, exponent=exponent)
    ends = walked(first, second, exponent)
    for x, chance in enumerate(told.first_wins):
        assert chance == pytest.approx(float(ends["first", x, second.to_lose]))
    for y, chance in enumerate(told.second_wins):
        assert chance == pytest.approx(float(ends["second", first.to_lose, y]))


@given(sides, sides, st.sampled_from([0, 0.5, 1]))
def test_turning_the_sides_round_turns_the_chances_round(first, second, exponent):
    one, other = prospect(first, second, exponent=exponent), prospect(second, first, exponent=exponent)
    assert one.chance == pytest.approx(1 - other.chance)
    assert one.first.mean == pytest.approx(other.second.mean)


@given(sides, sides)
def test_a_stronger_side_wins_more_often(first, second):
    stronger = Side(figures=first.figures, power=first.power * 2, stops_at=first.stops_at)
    assert prospect(stronger, second).chance >= prospect(first, second).chance


def test_numbers_drawn_evenly_give_the_chances():
    told = prospect(Side(figures=6), Side(figures=5))
    drawn = [told.drawn((n + 0.5) / 20_000) for n in range(20_000)]
    won = sum(each.winner == "first" for each in drawn) / len(drawn)
    lost = sum(each.first_lost for each in drawn) / len(drawn)
    assert (won, lost) == (pytest.approx(told.chance, abs=1e-3), pytest.approx(told.first.mean, abs=1e-2))


def test_equals_are_even():
    assert prospect(Side(figures=40), Side(figures=40)).chance == pytest.approx(0.5)


def test_a_side_that_cannot_fight_is_beaten_before_it_begins():
    told = prospect(Side(figures=0), Side(figures=4))
    assert (told.chance, told.second.mean, told.drawn(0.99).winner) == (0, 0, "second")


def test_two_sides_that_cannot_fight_have_no_winner():
    told = prospect(Side(figures=0), Side(figures=3, stops_at=3))
    assert told.drawn(0.3).winner == "nobody"


def test_the_defence_of_a_fit_is_the_defenders():
    held = Fit(defence=0.7)
    even = Side(figures=30)
    assert prospect(even, even, fit=held, defender=1).chance > 0.5 > prospect(even, even, fit=held, defender=-1).chance


def test_nine_times_in_ten_the_losses_lie_in_the_spread():
    told = prospect(Side(figures=60), Side(figures=50))
    losses = np.append(told.first_wins, told.second_wins.sum())
    assert losses[told.first.low : told.first.high + 1].sum() >= 0.9


def test_a_side_without_power_is_refused():
    with pytest.raises(ValueError, match="power"):
        prospect(Side(figures=3, power=0), Side(figures=3))
