"""A whole-number programme as columns and rows, and the exact bound that dual prices give for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Sides = tuple[list[int], list[int], list[int], list[int]]
Terms = Mapping[int, int]
NO_LIMIT: Final = 1 << 40  # stands for infinity; no row of a sound night comes near


@dataclass(slots=True)
class Program:
    """Columns between whole bounds, rows `lower <= sum of terms <= upper` with whole coefficients."""

    lower: list[int] = field(default_factory=list)
    upper: list[int] = field(default_factory=list)
    row_lower: list[int] = field(default_factory=list)
    row_upper: list[int] = field(default_factory=list)
    at_row: list[int] = field(default_factory=list)
    at_column: list[int] = field(default_factory=list)
    factors: list[int] = field(default_factory=list)

    def column(self, lower: int, upper: int) -> int:
        self.lower.append(lower)
        self.upper.append(upper)
        return len(self.lower) - 1

    def row(self, lower: int, upper: int, terms: Terms) -> int:
        row = len(self.row_lower)
        self.row_lower.append(lower)
        self.row_upper.append(upper)
        for column, factor in terms.items():
            if factor:
                self.at_row.append(row)
                self.at_column.append(column)
                self.factors.append(factor)
        return row

    def at_most(self, limit: int, terms: Terms) -> int:
        return self.row(-NO_LIMIT, limit, terms)

    def at_least(self, limit: int, terms: Terms) -> int:
        return self.row(limit, NO_LIMIT, terms)

    def costs(self, aim: Terms) -> Ints:
        costs = np.zeros(len(self.lower), dtype=np.int64)
        for column, factor in aim.items():
            costs[column] = factor
        return costs

    def copy(self) -> Program:
        """Another programme with the same rows, whose bounds may be changed by themselves."""
        return replace(
            self,
            lower=self.lower[:],
            upper=self.upper[:],
            row_lower=self.row_lower[:],
            row_upper=self.row_upper[:],
        )

    def sides(self) -> Sides:
        """The bounds and sides as they are now, to be restored."""
        return self.lower[:], self.upper[:], self.row_lower[:], self.row_upper[:]

    def restore(self, sides: Sides) -> None:
        """Bounds and sides as they were; what was added since keeps its own."""
        for now, before in zip((self.lower, self.upper, self.row_lower, self.row_upper), sides, strict=True):
            now[: len(before)] = before

    def allows(self, point: Ints) -> bool:
        """Whether a point of whole numbers keeps every bound and row, without any tolerance."""
        sums = np.zeros(len(self.row_lower), dtype=np.int64)
        np.add.at(sums, self.at_row, np.asarray(self.factors, dtype=np.int64) * point[self.at_column])
        return bool(
            np.all(point >= self.lower)
            and np.all(point <= self.upper)
            and np.all(sums >= self.row_lower)
            and np.all(sums <= self.row_upper)
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Bound:
    """No point costs less than `total / scale`; `prices` of rows and `reduced` costs of columns are times `scale`."""

    total: int
    scale: int
    prices: Ints
    reduced: Ints

    @property
    def least(self) -> int:
        """The least whole cost."""
        return -(-self.total // self.scale)

    @property
    def is_whole(self) -> bool:
        return self.total % self.scale == 0


def bound_of(program: Program, costs: Ints, prices: Floats, scale: int) -> Bound | None:
    """What the prices of a linear solution prove once rounded to multiples of 1/scale, in whole numbers only.

    Weak duality: for any prices y, with d = c - yA, every point costs at least the sum over rows of y times the side
    of the row that y leans on plus the sum over columns of d times the bound that d leans on. None: a side is open.
    """
    y = np.rint(prices * scale).astype(np.int64)
    d = costs * scale
    np.subtract.at(d, program.at_column, np.asarray(program.factors, dtype=np.int64) * y[program.at_row])
    sides = np.where(y > 0, np.asarray(program.row_lower), np.asarray(program.row_upper))
    ends = np.where(d > 0, np.asarray(program.lower), np.asarray(program.upper))
    if np.any((y != 0) & (np.abs(sides) >= NO_LIMIT)):
        return None
    # Python's own integers cannot overflow.
    total = sum(a * b for a, b in zip(y.tolist(), sides.tolist(), strict=True) if a)
    total += sum(a * b for a, b in zip(d.tolist(), ends.tolist(), strict=True) if a)
    return Bound(total=total, scale=scale, prices=y, reduced=d)


def keep_best(program: Program, bound: Bound) -> None:
    """Leave only the points that cost exactly the bound: each lies where its reduced costs and prices lean.

    Complementary slackness; the bounds change and no row is added, so a network stays one.
    """
    for column in np.flatnonzero(bound.reduced).tolist():
        end = program.lower[column] if bound.reduced[column] > 0 else program.upper[column]
        program.lower[column] = program.upper[column] = end
    for row in np.flatnonzero(bound.prices).tolist():
        side = program.row_lower[row] if bound.prices[row] > 0 else program.row_upper[row]
        program.row_lower[row] = program.row_upper[row] = side
