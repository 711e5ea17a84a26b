"""What each unit of a roster is worth today: a fold over its battles."""

from __future__ import annotations

from league.engines.strength.check import check_casualties
from league.engines.strength.fold import after, fresh, states_before, states_today
from league.engines.strength.model import (
    Casualty,
    Change,
    Engagement,
    Muster,
    Recovery,
    RosterUnit,
    UnitState,
)

__all__ = [
    "Casualty",
    "Change",
    "Engagement",
    "Muster",
    "Recovery",
    "RosterUnit",
    "UnitState",
    "after",
    "check_casualties",
    "fresh",
    "states_before",
    "states_today",
]
