"""One rating period of Glicko-2, for everybody at once.

The algorithm, its step numbers and its names are those of M. E. Glickman, "Example of the Glicko-2 system", Boston
University, 30 November 2013. Numbers here are on its inner scale: mu = (rating - 1500) / 173.7178, phi = deviation /
173.7178.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from .model import Floats, Ints

SCALE: Final = 173.7178
# The bracket of the volatility halves at least every other step, so this is never reached.
MOST_STEPS: Final = 200


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Strengths:
    """`mu`, `phi` and `sigma` of some players, one entry each."""

    mu: Floats
    phi: Floats
    sigma: Floats


def weight(phi: Floats) -> Floats:
    """g(phi): how much a game against one of this deviation counts."""
    return np.asarray(1.0 / np.sqrt(1.0 + 3.0 * np.square(phi) / np.pi**2))


def expectation(difference: Floats, phi: Floats) -> Floats:
    """E: the expected score of one who is `difference` stronger, where `phi` is what is uncertain about that."""
    return np.asarray(1.0 / (1.0 + np.exp(-weight(phi) * difference)))


def idle(phi: Floats, sigma: Floats) -> Floats:
    """Step 6 for those who did not play: they are only less known."""
    return np.hypot(phi, sigma)


def played(strengths: Strengths, me: Ints, other: Ints, score: Floats, *, tau: float, epsilon: float) -> Strengths:
    """Steps 3 to 7. `me`, `other` and `score` have an entry per player and game, so two per game; `me` and `other`
    index `strengths`, and everybody in it has played; scores are 0, 0.5 or 1."""
    mu, phi, size = strengths.mu, strengths.phi, len(strengths.mu)
    g = weight(phi[other])
    expected = 1.0 / (1.0 + np.exp(-g * (mu[me] - mu[other])))
    v = 1.0 / np.bincount(me, np.square(g) * expected * (1.0 - expected), size)  # step 3
    surprise = np.bincount(me, g * (score - expected), size)
    delta = v * surprise  # step 4
    sigma = _volatility(strengths, v, delta, tau=tau, epsilon=epsilon)
    phi_new = 1.0 / np.sqrt(1.0 / np.square(idle(phi, sigma)) + 1.0 / v)  # steps 6 and 7
    return Strengths(mu=mu + np.square(phi_new) * surprise, phi=phi_new, sigma=sigma)


def _volatility(strengths: Strengths, v: Floats, delta: Floats, *, tau: float, epsilon: float) -> Floats:
    """Step 5, by the "Illinois" rule; each player's bracket is closed until it is narrow enough."""
    a, phi2, delta2 = np.log(np.square(strengths.sigma)), np.square(strengths.phi), np.square(delta)

    def f(x: Floats, who: Ints) -> Floats:
        growth = np.exp(x)
        total = phi2[who] + v[who] + growth
        return np.asarray(growth * (delta2[who] - total) / (2.0 * np.square(total)) - (x - a[who]) / tau**2)

    low, high = a.copy(), _other_end(a, delta2 - phi2 - v, tau, f)
    everyone = np.arange(len(a))
    f_low, f_high = f(low, everyone), f(high, everyone)
    for _ in range(MOST_STEPS):
        open_ = np.flatnonzero(np.abs(high - low) > epsilon)
        if not len(open_):
            break
        middle = low[open_] + (low[open_] - high[open_]) * f_low[open_] / (f_high[open_] - f_low[open_])
        f_middle = f(middle, open_)
        crossed = f_middle * f_high[open_] <= 0
        low[open_] = np.where(crossed, high[open_], low[open_])
        f_low[open_] = np.where(crossed, f_high[open_], f_low[open_] / 2.0)
        high[open_], f_high[open_] = middle, f_middle
    return np.asarray(np.exp(low / 2.0))


def _other_end(a: Floats, excess: Floats, tau: float, f: Callable[[Floats, Ints], Floats]) -> Floats:
    """Where the bracket of step 5 begins: ln(excess) where results surprised, else as many tau below `a` as it takes."""
    end = np.log(np.where(excess > 0, excess, 1.0))
    calm = np.flatnonzero(excess <= 0)
    end[calm] = a[calm] - tau
    for _ in range(MOST_STEPS):
        wrong = calm[f(end[calm], calm) < 0]
        if not len(wrong):
            break
        end[wrong] -= tau
    return end
