"""What battles fought say about the laws."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import minimize

from league.engines.attrition import DEFAULT, ENOUGH, Fought, Side, fit, prospect
from league.engines.attrition.fit import _factors


def battles(count, *, numbers=0.0, quality=1.0, defence=0.0, seed=1):
    """Fought by the very process, with the truth as given."""
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(count):
        figures = rng.integers(20, 80, 2)
        power = rng.choice([0.6, 1.0, 1.6], 2)
        defender = int(rng.choice([-1, 0, 1]))
        odds = (power[0] / power[1]) ** quality * np.exp(defence * defender)
        sides = [Side(figures=int(each), stops_at=int(each * 0.5)) for each in figures]
        told = prospect(
            Side(figures=sides[0].figures, power=float(odds), stops_at=sides[0].stops_at),
            sides[1],
            exponent=1 + numbers,
        )
        end = told.drawn(float(rng.random()))
        made.append(
            Fought(
                first_figures=int(figures[0]),
                second_figures=int(figures[1]),
                first_lost=end.first_lost,
                second_lost=end.second_lost,
                first_power=float(power[0]),
                second_power=float(power[1]),
                defender=defender,
                winner=end.winner,
            )
        )
    return made


def test_before_enough_battles_the_laws_stand_as_they_are():
    assert fit(battles(ENOUGH - 1)) == DEFAULT


@pytest.mark.parametrize(("numbers", "quality", "defence"), [(0, 1, 0), (-0.6, 0.5, 0.4), (0.3, 1.4, -0.3)])
def test_many_battles_give_the_truth_away(numbers, quality, defence):
    found = fit(battles(600, numbers=numbers, quality=quality, defence=defence))
    truth = (numbers, quality, defence)
    for value, true, error in zip((found.numbers, found.quality, found.defence), truth, found.errors, strict=True):
        assert abs(value - true) < 4 * error
        assert error < 0.1


def test_a_few_battles_move_the_laws_only_a_little():
    few, many = fit(battles(ENOUGH, defence=0.8)), fit(battles(400, defence=0.8))
    assert few.errors[2] > many.errors[2]
    assert few.errors[2] < 0.5


def test_the_share_at_which_sides_leave_is_learnt():
    assert fit(battles(400)).breaks_at == pytest.approx(0.5, abs=0.02)


def test_the_fit_is_the_maximum_another_program_finds():
    """scipy's BFGS on the same penalised likelihood, where the losses are not dispersed."""
    told = battles(80, defence=0.3, seed=5)
    x, offset = _factors(told)
    fell = np.array([each.second_lost for each in told])
    other = np.array([each.first_lost for each in told])

    def cost(at, dispersion):
        eta = x @ at + offset
        likelihood = fell @ np.logaddexp(0, -eta) + other @ np.logaddexp(0, eta)
        return likelihood / dispersion + np.sum((at - [0, 1, 0]) ** 2) / (2 * 0.25)

    found = fit(told)
    at = np.array([found.numbers, found.quality, found.defence])
    # The dispersion is at least 1; where the fit is the maximum for some such weight, it is the one it used.
    raw = minimize(cost, [0, 1, 0], args=(1.0,)).x
    chance = 1 / (1 + np.exp(-(x @ raw + offset)))
    total = fell + other
    dispersion = max(1.0, np.sum((fell - total * chance) ** 2 / (total * chance * (1 - chance))) / (len(told) - 3))
    assert at == pytest.approx(minimize(cost, [0, 1, 0], args=(dispersion,)).x, abs=1e-4)
