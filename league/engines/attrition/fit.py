"""How much numbers, quality and the defence count in this club, by the battles it fought."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from league.engines.attrition.model import DEFAULT, Fit, Floats, Fought

__all__ = ["ENOUGH", "fit"]

ENOUGH = 12
"""So many battles at least before the laws are moved by what was reported (common practice, no source)."""

# How far the truth is thought to be from the laws before anything was seen: one standard deviation of each factor.
DOUBT = np.array([0.5, 0.5, 0.5])
PRIOR = np.array([DEFAULT.numbers, DEFAULT.quality, DEFAULT.defence])
# The default of `breaks_at` weighs as much as so many battles.
BREAK_WEIGHT = 6
STEPS = 50


def fit(battles: Iterable[Fought], *, enough: int = ENOUGH) -> Fit:
    """The laws moved towards what was reported; `DEFAULT` where fewer than `enough` battles say anything.

    Each figure that fell was the second's with the odds of `Fit`, taken at the numbers that stood half-way through
    the battle: a logistic regression, held to the laws by a normal prior of standard deviation 0.5 (MacKay,
    Information Theory, Inference, and Learning Algorithms, 2003, chapter 41). Losses come in clumps, so they are
    weighed down by their dispersion (Pearson's chi-square over its degrees of freedom; McCullagh and Nelder,
    Generalized Linear Models, 1989, section 4.5; from memory).
    """
    told = [each for each in battles if each.first_lost + each.second_lost and _stood(each)]
    if len(told) < enough:
        return DEFAULT
    x, offset = _factors(told)
    fell = np.array([each.second_lost for each in told], dtype=np.float64)
    total = np.array([each.first_lost + each.second_lost for each in told], dtype=np.float64)
    at, _ = _maximum(x, offset, fell, total, 1.0)
    at, information = _maximum(x, offset, fell, total, _dispersion(x, offset, fell, total, at))
    errors = np.sqrt(np.diag(np.linalg.inv(information)))
    return Fit(
        numbers=float(at[0]),
        quality=float(at[1]),
        defence=float(at[2]),
        breaks_at=_breaks_at(told),
        errors=(float(errors[0]), float(errors[1]), float(errors[2])),
        reports=len(told),
    )


def _stood(each: Fought) -> bool:
    return min(each.first_figures, each.second_figures) > 0 and min(each.first_power, each.second_power) > 0


def _factors(told: Sequence[Fought]) -> tuple[Floats, Floats]:
    """One row a battle: what the three unknowns are multiplied by; and what the law itself says."""
    first = np.array([each.first_figures - each.first_lost / 2 for each in told])
    second = np.array([each.second_figures - each.second_lost / 2 for each in told])
    numbers = np.log(first / second)
    quality = np.log(np.array([each.first_power / each.second_power for each in told]))
    defence = np.array([float(each.defender) for each in told])
    law = np.array([each.law for each in told])
    return np.stack([numbers, quality, defence], axis=1), law * numbers


def _chance(x: Floats, offset: Floats, at: Floats) -> Floats:
    return np.asarray(1 / (1 + np.exp(-np.clip(x @ at + offset, -30, 30))))


def _maximum(x: Floats, offset: Floats, fell: Floats, total: Floats, dispersion: float) -> tuple[Floats, Floats]:
    """Newton's method on the penalised likelihood, which is concave: there is one maximum, and it is found."""
    at = PRIOR.copy()
    penalty = np.diag(1 / DOUBT**2)
    information = penalty
    for _ in range(STEPS):
        chance = _chance(x, offset, at)
        slope = x.T @ (fell - total * chance) / dispersion - penalty @ (at - PRIOR)
        information = (x.T * (total * chance * (1 - chance))) @ x / dispersion + penalty
        step = np.linalg.solve(information, slope)
        at = at + step
        if float(np.abs(step).max()) < 1e-10:  # noqa: PLR2004 - no digit of it will be shown
            break
    return at, information


def _dispersion(x: Floats, offset: Floats, fell: Floats, total: Floats, at: Floats) -> float:
    chance = _chance(x, offset, at)
    pearson = float(np.sum((fell - total * chance) ** 2 / (total * chance * (1 - chance))))
    return float(max(1.0, pearson / max(1, len(fell) - x.shape[1])))


def _breaks_at(told: Sequence[Fought]) -> float:
    """The mean share the losers had lost, with the default as so many battles more."""
    shares: list[float] = [
        each.first_lost / each.first_figures if each.winner == "second" else each.second_lost / each.second_figures
        for each in told
        if each.winner != "nobody"
    ]
    mean: float = (sum(shares) + BREAK_WEIGHT * DEFAULT.breaks_at) / (len(shares) + BREAK_WEIGHT)
    return float(min(1.0, max(0.05, mean)))
