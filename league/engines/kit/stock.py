"""How many are enough: the chance that a stock serves several tables at once, from the peak counts of reports.

Everything is counted in whole numbers: a share is a Fraction, the sum of several tables an exact convolution, and no
chance is rounded before somebody shows it. Tables are taken as independent of each other.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache, reduce
from itertools import accumulate
from math import gcd, lcm
from typing import Final

__all__ = ["MOST_PEAK", "MOST_TABLES", "PerTable", "Prior", "Step", "per_table", "triangular"]

MOST_PEAK: Final = 1_000  # pieces in use at once at one table: above this somebody mistyped
MOST_TABLES: Final = 200


@dataclass(frozen=True, kw_only=True, slots=True)
class Prior:
    """What is held to be likely before there are reports: (peak, weight) in any whole units, and how many reports it
    is `worth`: after as many real ones, both count the same. `words` say where it comes from.
    """

    weights: tuple[tuple[int, int], ...]
    worth: int
    words: str = ""

    def __post_init__(self) -> None:
        peaks = [peak for peak, _ in self.weights]
        if len(set(peaks)) < len(peaks) or not all(0 <= peak <= MOST_PEAK for peak in peaks):
            raise ValueError(f"Peaks of a prior are from 0 to {MOST_PEAK}, each once.")
        if not all(weight >= 0 for _, weight in self.weights) or not any(weight for _, weight in self.weights):
            raise ValueError("Weights of a prior are whole numbers from 0, and not all 0.")
        if self.worth < 1:
            raise ValueError("A prior is worth one report or more.")


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """The chance that `stock` pieces are enough."""

    stock: int
    chance: Fraction


@dataclass(frozen=True, kw_only=True, slots=True)
class PerTable:
    """How many pieces one table has in use at its peak: `weights[k]` over their sum is the share of peak k.

    `reports` were counted, and the prior as `worth` more.
    """

    weights: tuple[int, ...]
    reports: int = 0
    worth: int = 0

    def share(self, peak: int) -> Fraction:
        return Fraction(self.weights[peak] if 0 <= peak < len(self.weights) else 0, sum(self.weights))

    @property
    def mean(self) -> Fraction:
        return Fraction(sum(peak * weight for peak, weight in enumerate(self.weights)), sum(self.weights))

    def chance_that(self, stock: int, tables: int) -> Fraction:
        """The chance that `stock` pieces serve as many tables at once, exactly."""
        sums = _cumulated(self.weights, _checked(tables))
        return Fraction(sums[min(stock, len(sums) - 1)], sums[-1]) if stock >= 0 else Fraction(0)

    def enough_for(self, tables: int, chance: Fraction) -> int:
        """The least stock that serves as many tables at once with at least that chance, which is above 0 and up to 1."""
        if not 0 < chance <= 1:
            raise ValueError("A chance is above 0 and at most 1.")
        sums = _cumulated(self.weights, _checked(tables))
        return next(
            stock for stock, count in enumerate(sums) if count * chance.denominator >= chance.numerator * sums[-1]
        )

    def curve(self, tables: int) -> tuple[Step, ...]:
        """The chance for every stock from none to the most that can be in use."""
        sums = _cumulated(self.weights, _checked(tables))
        return tuple(Step(stock=stock, chance=Fraction(count, sums[-1])) for stock, count in enumerate(sums))


def per_table(peaks: Iterable[int], *, prior: Prior) -> PerTable:
    """The club's own distribution: each report counts one, the prior as many as it is worth.

    The predictive distribution of a Dirichlet prior: share of k = (reports with k + worth * prior share of k) /
    (reports + worth). With no report it is the prior; the more there are, the less that matters.
    """
    counts = Counter(peaks)
    if counts and not 0 <= min(counts) <= max(counts) <= MOST_PEAK:
        raise ValueError(f"A peak is from 0 to {MOST_PEAK} pieces.")
    before = dict(prior.weights)
    whole = sum(before.values())
    top = max([*counts, *(peak for peak, weight in before.items() if weight)])
    weights = [counts[peak] * whole + prior.worth * before.get(peak, 0) for peak in range(top + 1)]
    common = reduce(gcd, weights)
    return PerTable(weights=tuple(weight // common for weight in weights), reports=counts.total(), worth=prior.worth)


def triangular(*, least: int, usual: int, most: int, worth: int, words: str = "") -> Prior:
    """A prior from three numbers that a person can state: weights fall evenly from `usual` to nothing just outside
    `least` and `most`.
    """
    if not 0 <= least <= usual <= most <= MOST_PEAK:
        raise ValueError(f"Least, usual and most follow each other, from 0 to {MOST_PEAK}.")
    up, down = usual - least + 1, most - usual + 1
    height = lcm(up, down)
    weights = tuple(
        (peak, height * (peak - least + 1) // up if peak <= usual else height * (most - peak + 1) // down)
        for peak in range(least, most + 1)
    )
    return Prior(weights=weights, worth=worth, words=words)


def _checked(tables: int) -> int:
    if not 0 <= tables <= MOST_TABLES:
        raise ValueError(f"There are from 0 to {MOST_TABLES} tables.")
    return tables


@lru_cache(maxsize=64)
def _cumulated(weights: tuple[int, ...], tables: int) -> tuple[int, ...]:
    return tuple(accumulate(convolved(weights, tables)))


def convolved(weights: tuple[int, ...], tables: int) -> tuple[int, ...]:
    """The weights of the sum of as many independent tables, exactly.

    They are the coefficients of a power of a polynomial. It is taken at a power of two so large that no coefficient
    runs over into the next (Kronecker's substitution), which leaves the work to the multiplication of large integers.
    """
    width = (sum(weights) ** max(tables, 1)).bit_length() // 8 + 1  # bytes that hold any coefficient
    packed = int.from_bytes(b"".join(weight.to_bytes(width, "little") for weight in weights), "little")
    size = (len(weights) - 1) * tables + 1
    power = (packed**tables).to_bytes(width * size, "little")
    return tuple(int.from_bytes(power[at : at + width], "little") for at in range(0, width * size, width))
