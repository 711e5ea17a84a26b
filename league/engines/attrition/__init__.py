"""A battle nobody could play: Lanchester's laws, and the random process whose mean converges to them.

`survivors` and `course` are the laws themselves, certain and smooth (F. W. Lanchester, Aircraft in Warfare, 1916,
chapters V and VI). `prospect` is the same battle told by chances: one figure falls after the other, and whose it is
depends on who still stands. It is reckoned exactly, state by state, and not by trial, so the expected loss and its
spread stand before anybody accepts anything; `Prospect.drawn` then reads one outcome off it by a number that comes
from dice. `fit` learns from battles that were fought how much numbers, quality and the defence really count; before
there are `ENOUGH` of them the laws stand as they are.
"""

from __future__ import annotations

from league.engines.attrition.chain import prospect
from league.engines.attrition.fit import ENOUGH, fit
from league.engines.attrition.laws import Reinforcement, course, remaining, survivors
from league.engines.attrition.model import DEFAULT, Drawn, Fit, Fought, Prospect, Side, Spread

__all__ = [
    "DEFAULT",
    "ENOUGH",
    "Drawn",
    "Fit",
    "Fought",
    "Prospect",
    "Reinforcement",
    "Side",
    "Spread",
    "course",
    "fit",
    "prospect",
    "remaining",
    "survivors",
]
