"""What goes into a battle by numbers, and what comes out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

__all__ = ["DEFAULT", "Drawn", "Fit", "Floats", "Fought", "Prospect", "Side", "Spread", "Winner"]

Floats = NDArray[np.float64]
Winner = Literal["first", "second", "nobody"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Side:
    """`figures` who stand, each worth `power` of an ordinary one; the side breaks once only `stops_at` are left."""

    figures: int
    power: float = 1.0
    stops_at: int = 0

    @property
    def to_lose(self) -> int:
        """How many it can lose before it is beaten."""
        return max(0, self.figures - self.stops_at)


@dataclass(frozen=True, kw_only=True, slots=True)
class Spread:
    """A side's losses in figures: their mean and standard deviation; nine times in ten they are from `low` to `high`."""

    mean: float
    deviation: float
    low: int
    high: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawn:
    """One outcome: who won and how many figures each side lost."""

    winner: Winner
    first_lost: int
    second_lost: int


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Prospect:
    """Every way a battle can end. `first_wins[x]` is the chance that the first wins and loses x figures on the way;
    `second_wins[y]` likewise. `nobody` is 1 where neither side can fight to begin with."""

    first_wins: Floats
    second_wins: Floats
    nobody: float
    first: Spread
    second: Spread

    @property
    def chance(self) -> float:
        """The chance that the first wins."""
        return float(self.first_wins.sum())

    def drawn(self, number: float) -> Drawn:
        """The outcome at a number from 0 up to, not with, 1: first the first's wins from the cheapest to the dearest,
        then the second's likewise. Equal parts of the numbers go to equal chances."""
        if self.nobody:
            return Drawn(winner="nobody", first_lost=0, second_lost=0)
        chances = np.concatenate([self.first_wins, self.second_wins])
        edges = np.cumsum(chances)
        at = int(np.searchsorted(edges, number * edges[-1], side="right"))
        if at < len(self.first_wins):
            return Drawn(winner="first", first_lost=at, second_lost=len(self.second_wins))
        return Drawn(winner="second", first_lost=len(self.first_wins), second_lost=at - len(self.first_wins))


@dataclass(frozen=True, kw_only=True, slots=True)
class Fought:
    """A battle that was fought, for `fit`. `law` is the exponent that Lanchester's law for its ground has (1 square,
    0 linear); `defender` whether the first (1), the second (-1) or nobody (0) defended."""

    first_figures: int
    second_figures: int
    first_lost: int
    second_lost: int
    first_power: float = 1.0
    second_power: float = 1.0
    law: float = 1.0
    defender: Literal[-1, 0, 1] = 0
    winner: Winner = "nobody"


@dataclass(frozen=True, kw_only=True, slots=True)
class Fit:
    """What battles fought say about the laws.

    The next figure to fall is the second's with odds of

        (first figures / second figures) ^ (law + numbers) x (first power / second power) ^ quality x e ^ defence

    the last factor only where the first defends, and turned round where the second does. `errors` are the standard
    errors of these three, in that order. `breaks_at` is the share of its figures after whose loss a side leaves.
    `reports` is how many battles this is drawn from; 0: the stated default.
    """

    numbers: float = 0.0
    quality: float = 1.0
    defence: float = 0.0
    breaks_at: float = 0.4
    errors: tuple[float, float, float] = (0.0, 0.0, 0.0)
    reports: int = 0


# Numbers and quality count as the laws have it, defending by itself does not, and a side leaves after losing two
# fifths (common practice, no source).
DEFAULT = Fit()
