"""What one game's report comes to: each side's score, who won, and what the beaten units were worth."""

from __future__ import annotations

from league.engines.scoring.destroyed import destroyed_points
from league.engines.scoring.model import FieldedUnit, ImpossibleScore, SideClaim, SideScore, UnitLoss
from league.engines.scoring.result import score_report

__all__ = [
    "FieldedUnit",
    "ImpossibleScore",
    "SideClaim",
    "SideScore",
    "UnitLoss",
    "destroyed_points",
    "score_report",
]
