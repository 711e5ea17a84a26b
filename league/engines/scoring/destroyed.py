"""What beaten units are worth to the enemy."""

from __future__ import annotations

from collections.abc import Iterable

from league.engines.rulesets import DestroyedPoints
from league.engines.scoring.model import FieldedUnit, UnitLoss


def destroyed_points(units: Iterable[FieldedUnit], losses: Iterable[UnitLoss], rule: DestroyedPoints) -> int:
    """The points of what a side lost.

    A destroyed unit counts in full, even if it took the field below strength. A damaged one counts nothing under
    the rule `destroyed`, and points x figures lost / figures under `proportional`, rounded down unit by unit.
    KeyError: a loss of a unit that is not among `units`.
    """
    fielded = {unit.id: unit for unit in units}
    return sum(_worth(fielded[loss.unit_id], loss, rule) for loss in losses)


def _worth(unit: FieldedUnit, loss: UnitLoss, rule: DestroyedPoints) -> int:
    if loss.destroyed:
        return unit.points
    if rule == "destroyed":
        return 0
    return unit.points * min(loss.figures_lost, unit.figures) // unit.figures
