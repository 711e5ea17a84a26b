"""Ratings: how strong everybody is, as far as their games tell.

For games of one against one, Glicko-2 by rating periods: `rate` takes `RatedGame`s to a `History`, which has the
`State` after each period, a player's `curve`, and what was expected of every game before it was played. `rerate` does
again what lies after a correction, and comes to the same numbers as from scratch. `expected_score` is for the next
game of two; `quality` says how good the expectations have been (log loss, Brier's score, calibration) against the
plain base rate. For games of teams and of many sides, Plackett-Luce: `rate_many` and `win_chances`. `elo` is there for
those who like to check by hand.

Nobody's rating is ever stored: it is counted from the games, 100,000 of them in about a second.
"""

from .elo import elo, logistic_expectation, normal_expectation
from .many import ManyGame, Skill, SkillHistory, SkillParameters, SkillStep, rate_many, win_chances
from .model import BadGames, CurvePoint, Forecasts, History, Parameters, RatedGame, Rating, State
from .periods import expected_score, rate, rerate
from .quality import CalibrationBin, Quality, quality

__all__ = [
    "BadGames",
    "CalibrationBin",
    "CurvePoint",
    "Forecasts",
    "History",
    "ManyGame",
    "Parameters",
    "Quality",
    "RatedGame",
    "Rating",
    "Skill",
    "SkillHistory",
    "SkillParameters",
    "SkillStep",
    "State",
    "elo",
    "expected_score",
    "logistic_expectation",
    "normal_expectation",
    "quality",
    "rate",
    "rate_many",
    "rerate",
    "win_chances",
]
