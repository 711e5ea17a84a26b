"""The criteria one after the other: the least of each, among the plans that are best by those before."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import lcm

import numpy as np

from .layout import Layout
from .model import LEVELS, Criterion, Level, Proof, Value
from .program import NO_LIMIT, Bound, Ints, bound_of, keep_best
from .solver import Whole, solve_relaxed, solve_whole

SHARE = 0.5  # of the time left, for one hard level; what it does not use is left for the others
MOST_SCALED = 12


@dataclass(kw_only=True, slots=True)
class Stages:
    """`left` says how many seconds are left; `point` is the best point so far, in whole numbers."""

    layout: Layout
    left: Callable[[], float]
    point: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))

    def run(self, criteria: Sequence[Criterion]) -> list[Value]:
        return [self._least(criterion, level) for criterion in criteria for level in LEVELS[criterion]]

    def _least(self, criterion: Criterion, level: Level) -> Value:
        layout, program = self.layout, self.layout.program
        self.point = layout.reach(level, self.point)
        aim, constant = layout.aim(level)
        costs = program.costs(aim)
        bound = bound_of(program, costs, np.zeros(len(program.row_lower)), 1)
        if bound is None or bound.least < self._cost(costs):
            bound = self._relax(costs) or bound
        least, proof = self._proven(costs, bound, None)
        if proof == "open":
            whole = solve_whole(
                program, costs, self.left() * SHARE, start=self.point, stop_at=bound.least if bound else None
            )
            if whole.point is not None:
                self._improve(costs, whole.point)
            least, proof = self._proven(costs, bound, whole)
        value = self._cost(costs)
        if bound is not None and bound.is_whole and bound.least == value:
            keep_best(program, bound)
        elif aim:
            program.at_most(value, aim)
        return Value(criterion=criterion, level=level, value=value + constant, bound=least + constant, proof=proof)

    def _cost(self, costs: Ints) -> int:
        return int(costs @ self.point)

    def _improve(self, costs: Ints, point: Ints) -> None:
        if self.layout.program.allows(point) and int(costs @ point) <= self._cost(costs):
            self.point = point

    def _relax(self, costs: Ints) -> Bound | None:
        """The best that rounded prices prove; as a network's prices are whole, the first try mostly does."""
        relaxed = solve_relaxed(self.layout.program, costs, self.left())
        if relaxed is None:
            return None
        self._improve(costs, np.rint(relaxed.point).astype(np.int64))
        factors = {min(abs(each), MOST_SCALED) for each in self.layout.program.factors}
        scales = dict.fromkeys((1, lcm(*factors), 5040))
        bounds = (bound_of(self.layout.program, costs, relaxed.prices, scale) for scale in scales)
        return max((each for each in bounds if each), key=lambda each: (each.least, -each.scale), default=None)

    def _proven(self, costs: Ints, bound: Bound | None, whole: Whole | None) -> tuple[int, Proof]:
        value = self._cost(costs)
        counted = bound.least if bound else -NO_LIMIT
        if counted == value:
            return counted, "integers"
        claimed = whole.least if whole is not None and whole.least is not None else counted
        least = min(max(counted, claimed), value)
        return least, "solver" if least == value else "open"
