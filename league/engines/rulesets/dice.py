"""Reading smaller dice off the ones people own."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["DICE", "DieReading", "die_reading"]

DICE = (2, 3, 4, 6, 8, 10, 12, 20)
"""The dice a casualty table may ask for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DieReading:
    """How a die of `sides` is thrown: the die of `thrown` sides on the table, its faces shared out in equal runs.

    A six-sided die serves as a three-sided one (1-2, 3-4, 5-6) and as a two-sided one (1-3, 4-6).
    Common practice, no source.
    """

    sides: int
    thrown: int

    def read(self, rolled: int) -> int:
        """What the face `rolled` counts as, 1 to `sides`. ValueError if the thrown die has no such face."""
        if not 1 <= rolled <= self.thrown:
            msg = f"a die of {self.thrown} sides does not show {rolled}"
            raise ValueError(msg)
        return (rolled - 1) * self.sides // self.thrown + 1


def die_reading(sides: int) -> DieReading:
    """The die to throw for a table that asks for `sides`. ValueError for a die no table may ask for."""
    if sides not in DICE:
        msg = f"no table asks for a die of {sides} sides"
        raise ValueError(msg)
    return DieReading(sides=sides, thrown=6 if sides in (2, 3) else sides)
