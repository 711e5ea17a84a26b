"""The laws against their worked examples (tests/reference/campaign), and the random battle against the laws."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from league.engines.attrition import Reinforcement, Side, course, prospect, remaining, survivors

REFERENCE = json.loads(
    (Path(__file__).parents[2] / "reference" / "campaign" / "combat.json").read_text(encoding="utf-8")
)
SQUARE = REFERENCE["lanchester_square"]["examples"]
IWO_JIMA = REFERENCE["iwo_jima"]


def test_a_thousand_meet_five_hundred_and_then_five_hundred_more():
    """Lanchester 1916, chapter V: the force met in two halves is beaten in two halves."""
    example = SQUARE[0]
    first, _ = survivors(example["A"], example["B"])
    second, _ = survivors(first, example["then_against"])
    assert (first, second) == (
        pytest.approx(example["survivors"], abs=1e-4),
        pytest.approx(example["survivors2"], abs=1e-4),
    )


def test_one_force_equals_two_met_in_turn():
    """Lanchester 1916, chapter V: 50,000 against 40,000 and then against 30,000."""
    example = SQUARE[1]
    left = example["A"]
    for met in example["B"]:
        left, _ = survivors(left, met)
    assert left == pytest.approx(0, abs=1e-3)


def test_the_plan_for_trafalgar():
    """Lanchester 1916, chapter VI: 32 ships against half the enemy, 8 against the rest."""
    example = SQUARE[2]
    gained, _ = survivors(example["own"][0], example["enemy"][0])
    _, lost = survivors(example["own"][1], example["enemy"][1])
    assert survivors(gained, lost)[0] == pytest.approx(example["equivalent_ships"], abs=1e-4)


def test_man_meets_man():
    """Lanchester 1916, chapter V: the linear law."""
    example = REFERENCE["lanchester_linear"]["example"]
    assert survivors(example["A"], example["B"], exponent=0)[0] == pytest.approx(example["survivors"])


def iwo_jima(days):
    return course(
        0,
        21500,
        a=IWO_JIMA["B"],
        b=IWO_JIMA["A"],
        times=days,
        reinforcements=[
            Reinforcement(begin=each["day_from"], end=each["day_to"], rate=each["per_day"])
            for each in IWO_JIMA["reinforcements"]
        ],
    )


def test_iwo_jima_comes_out_as_it_did():
    """Engel 1954: the landing force on days 28 and 36, within one in a hundred; nobody left to defend on day 36."""
    day_28, day_36 = iwo_jima([28, 36])
    assert day_28[0] == pytest.approx(IWO_JIMA["actual"]["M28"], rel=0.01)
    assert day_36[0] == pytest.approx(IWO_JIMA["actual"]["M36"], rel=0.01)
    assert day_36[1] < 0.015 * 21500


def test_iwo_jima_agrees_with_another_program():
    """Solved exactly here, in steps there: within one in a thousand, or five men."""
    wanted = IWO_JIMA["model_values_computed_here"]
    for found, day in zip(iwo_jima([int(day) for day in wanted]), wanted, strict=True):
        assert found == pytest.approx(tuple(wanted[day]), rel=1e-3, abs=5)


@pytest.mark.parametrize(
    ("exponent", "ratio", "power", "stops"),
    [(1, 2, 1.0, 0.0), (1, 1.5, 1.4, 0.6), (0, 2, 1.0, 0.0), (0, 1.5, 1.2, 0.6), (0.5, 2, 1.0, 0.5)],
)
def test_the_mean_of_the_random_battle_converges_to_the_law(exponent, ratio, power, stops):
    """The share lost comes nearer to the law's as forces grow, and within two in a thousand of it at 2,000 a side.

    Under the linear law each figure lost is the same toss of a coin, and the mean is the law's at any size.
    """
    law = 1 - remaining(ratio, 1, stops, a=power, exponent=exponent) / ratio
    apart = []
    for size in (20, 200, 2000):
        first = Side(figures=int(ratio * size), power=power)
        told = prospect(first, Side(figures=size, stops_at=int(stops * size)), exponent=exponent)
        apart.append(round(abs(told.first.mean / first.figures - law), 12))
    assert apart == sorted(apart, reverse=True)
    assert apart[-1] < 0.002


def test_the_spread_of_the_random_battle_narrows_as_forces_grow():
    shares = [prospect(Side(figures=2 * n), Side(figures=n)).first.deviation / n for n in (20, 200, 2000)]
    assert shares[1] < shares[0] / 2
    assert shares[2] < shares[1] / 2


def test_the_square_law_keeps_its_balance_on_the_way():
    for first, second in course(100, 80, a=0.02, b=0.03, times=[1, 5, 9]):
        assert 0.02 * first**2 - 0.03 * second**2 == pytest.approx(0.02 * 100**2 - 0.03 * 80**2)


def test_with_the_stop_at_nothing_what_remains_is_what_survives():
    assert remaining(1000, 500, 0) == pytest.approx(math.sqrt(1000**2 - 500**2))
