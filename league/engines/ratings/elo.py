"""Elo's rating: the plain one, which fits on the back of a card.

Sources: A. E. Elo, "The Rating of Chessplayers" (1978); FIDE Rating Regulations, Handbook B.02.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist
from typing import Final

LOGISTIC_SCALE: Final = 400.0
# Elo's own curve: two players' performances, each with a standard deviation of 200, as FIDE's tables round it.
NORMAL_CURVE: Final = NormalDist(0.0, 2000.0 / 7.0)


def logistic_expectation(difference: float) -> float:
    """The expected score, 0 to 1, of one rated `difference` higher, by the logistic curve."""
    return 1.0 / (1.0 + math.pow(10.0, -difference / LOGISTIC_SCALE))


def normal_expectation(difference: float) -> float:
    """The same by the normal curve, which FIDE's table 8.1.2 tabulates in hundredths."""
    return NORMAL_CURVE.cdf(difference)


def elo(rating: float, games: Sequence[tuple[float, float]], *, k: float) -> float:
    """The rating after `games`, each the opponent's rating and one's own score (0, 0.5 or 1), taken together."""
    surprise = sum(score - logistic_expectation(rating - opponent) for opponent, score in games)
    return rating + k * surprise
