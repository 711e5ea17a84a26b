"""Numbers of all entrants at once: what everybody scored, and one column per tie-break."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import numpy as np

from .ledger import Flags, Ints

LARGEST_KEY: Final = int(np.iinfo(np.int64).max)


@dataclass(frozen=True, kw_only=True, slots=True)
class Totals:
    """Sums by entrant. `game_points` are the half-points out of games, byes and their bonuses; `points` have the
    season's bonuses and the adjustments too."""

    points: Ints
    game_points: Ints
    played: Ints
    unplayed: Ints
    won: Ints
    drawn: Ints
    lost: Ints
    score_for: Ints
    score_against: Ints


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """One criterion for every entrant: `key` orders (more is better); the value is `numerator`, or for a ratio
    `numerator / denominator`.
    """

    key: Ints
    numerator: Ints
    denominator: Ints | None = None

    def at(self, index: int) -> int | Fraction | None:
        """The exact value of one entrant; None for a ratio of something to nothing."""
        numerator = int(self.numerator[index])
        if self.denominator is None:
            return numerator
        denominator = int(self.denominator[index])
        if denominator:
            return Fraction(numerator, denominator)
        return None if numerator > 0 else Fraction(0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Application:
    """One time a direct encounter was applied: the level `groups` it looked at, whom it was `applied` to (groups of
    one and groups that have to wait are left out), and the `pieces`, of shape (entrants, pieces)."""

    groups: Ints
    applied: Flags
    pieces: Ints


@dataclass(frozen=True, kw_only=True, slots=True)
class DirectColumn(Column):
    """The column of a direct encounter: its number is the first piece of the first application."""

    applications: tuple[Application, ...]

    def parts_at(self, index: int) -> tuple[int, ...]:
        """All pieces of one entrant, application after application."""
        return tuple(
            piece
            for application in self.applications
            if application.applied[index]
            for piece in application.pieces[index].tolist()
        )


def whole(values: Ints) -> Column:
    """A column of whole numbers."""
    return Column(key=values, numerator=values)


def ratio(numerator: Ints, denominator: Ints) -> Column:
    """A column of exact ratios. Something over nothing comes before every number, nothing over nothing counts 0."""
    return Column(key=_ratio_keys(numerator, denominator), numerator=numerator, denominator=denominator)


def _ratio_keys(numerator: Ints, denominator: Ints) -> Ints:
    """Whole numbers in the order of the ratios, equal where the ratios are equal.

    Two different fractions with denominators up to D are at least 1/D² apart, so times D² they are at least 1 apart
    and their floors differ in the same order. Where that would not fit 64 bits, Python's fractions are ranked.
    """
    finite = denominator != 0
    key = np.where(numerator > 0, LARGEST_KEY, 0)
    if not finite.any():
        return key
    above, below = numerator[finite], denominator[finite]
    widest = int(np.abs(below).max()) ** 2
    if widest * max(1, int(np.abs(above).max())) < LARGEST_KEY:
        key[finite] = above * widest // below
    else:
        fractions = [Fraction(a, b) for a, b in zip(above.tolist(), below.tolist(), strict=True)]
        places = {fraction: place for place, fraction in enumerate(sorted({*fractions, Fraction(0)}))}
        key[finite] = [places[fraction] - places[Fraction(0)] for fraction in fractions]
    return key
