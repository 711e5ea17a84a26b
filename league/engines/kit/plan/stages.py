"""The criteria one after the other: the least of each, among the plans that are best by those before."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import lcm
from typing import Final

import numpy as np

from .layout import CHARGES, LOOKS, STEP_OF, USES, Layout
from .model import LEVELS, Criterion, Level, Proof, Value
from .program import NO_LIMIT, Bound, Floats, Ints, bound_of, keep_best
from .slopes import cheaper_points
from .solver import Whole, solve_relaxed, solve_whole

MOST_TAKEN: Final = 12
SHARE: Final = 0.5  # of the time left, for one hard level; what it does not use is left for the others
SHARE_OF_GUESS: Final = 0.2
SCALES: Final = (1, 12, 5040)  # prices are tried as whole numbers first, then as fractions of these denominators


@dataclass(kw_only=True, slots=True)
class Stages:
    """`left` says how many seconds are left; `point` is the best point so far, in whole numbers."""

    layout: Layout
    left: Callable[[], float]
    point: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))
    settled: list[tuple[Ints, int]] = field(default_factory=list)  # levels kept by a row: what they count, how much

    def run(self, criteria: Sequence[Criterion]) -> list[Value]:
        """The values of all levels of the criteria, in their order."""
        levels = [(criterion, level) for criterion in criteria for level in LEVELS[criterion]]
        easy = 0
        while easy < len(levels) and levels[easy][1] not in STEP_OF:
            easy += 1
        values = self._at_once(levels[:easy], USES) or self._at_once(levels[:easy], LOOKS)
        hard = levels[easy:] if values else levels
        return [*(values or ()), *(self._least(*each) for each in hard)]

    def _at_once(self, levels: Sequence[tuple[Criterion, Level]], step: int) -> list[Value] | None:
        """The levels that only ask what is used where, by linear bounds alone, first without looks; then one search for
        a point that keeps looks and bounds. None when none is found, and nothing is changed.
        """
        layout = self.layout
        self.point = layout.reach(step, self.point)
        before = layout.program.sides()
        values = []
        for criterion, level in levels:
            aim, _ = layout.aim(level)
            bound = self._relax(layout.program.costs(aim))
            if bound is None or not bound.is_whole:
                break
            keep_best(layout.program, bound)
            values.append(
                Value(criterion=criterion, level=level, value=bound.least, bound=bound.least, proof="integers")
            )
        self.point = layout.reach(LOOKS, self.point)
        if len(values) == len(levels) and self._lands():
            return values
        layout.program.restore(before)
        return None

    def _lands(self) -> bool:
        """Whether there is a point within the bounds as they are now; then it is the best."""
        program = self.layout.program
        if not program.allows(self.point):
            nothing = program.costs({})
            found = solve_whole(program, nothing, self.left() * SHARE_OF_GUESS, start=None, stop_at=0).point
            if found is None or not program.allows(found):
                return False
            self.point = found
        return True

    def _least(self, criterion: Criterion, level: Level) -> Value:
        layout, program = self.layout, self.layout.program
        self.point = layout.reach(STEP_OF.get(level, LOOKS), self.point)
        aim, constant = layout.aim(level)
        costs = program.costs(aim)
        bound = bound_of(program, costs, np.zeros(len(program.row_lower)), 1)
        if bound is None or bound.least < self._cost(costs):
            bound = self._relax(costs) or bound
        least, proof = self._proven(costs, bound, None)
        if proof == "open":
            if STEP_OF.get(level) == CHARGES:
                for point in cheaper_points(layout, level, self.point, self.settled, self.left):
                    self._improve(costs, point)
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
            self.settled.append((costs, value))
        return Value(criterion=criterion, level=level, value=value + constant, bound=least + constant, proof=proof)

    def _cost(self, costs: Ints) -> int:
        return int(costs @ self.point)

    def _improve(self, costs: Ints, point: Ints) -> None:
        program = self.layout.program
        if program.allows(point) and (int(costs @ point) <= self._cost(costs) or not program.allows(self.point)):
            self.point = point

    def _relax(self, costs: Ints) -> Bound | None:
        relaxed = solve_relaxed(self.layout.program, costs, self.left())
        if relaxed is None:
            return None
        self._improve(costs, np.rint(relaxed.point).astype(np.int64))
        return _best_bound(self.layout, costs, relaxed.prices)

    def _proven(self, costs: Ints, bound: Bound | None, whole: Whole | None) -> tuple[int, Proof]:
        value = self._cost(costs)
        counted = bound.least if bound else -NO_LIMIT
        if counted == value:
            return counted, "integers"
        claimed = whole.least if whole is not None and whole.least is not None else counted
        least = min(max(counted, claimed), value)
        return least, "solver" if least == value else "open"


def _best_bound(layout: Layout, costs: Ints, prices: Floats) -> Bound | None:
    """The best that rounded prices prove; as a network's prices are whole, the first try mostly does."""
    program = layout.program
    scales = dict.fromkeys((*SCALES, lcm(*{use.takes for use in layout.facts.night.uses if use.takes <= MOST_TAKEN})))
    bounds = (bound_of(program, costs, prices, scale) for scale in scales)
    return max((each for each in bounds if each), key=lambda each: (each.least, -each.scale), default=None)
