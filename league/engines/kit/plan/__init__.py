"""An exact plan of who brings what for which table, with its reasons, and proof that no plan is better."""

from .check import PlanUnsound, check_plan
from .model import (
    DEFAULT_ORDER,
    Count,
    Criterion,
    GoodCount,
    Level,
    Line,
    Load,
    Plan,
    Proof,
    Reason,
    ReasonCode,
    Served,
    Shortfall,
    Value,
)
from .night import plan_night
from .order import NightUnsound, in_order
from .tally import count_holds

__all__ = [
    "DEFAULT_ORDER",
    "Count",
    "Criterion",
    "GoodCount",
    "Level",
    "Line",
    "Load",
    "NightUnsound",
    "Plan",
    "PlanUnsound",
    "Proof",
    "Reason",
    "ReasonCode",
    "Served",
    "Shortfall",
    "Value",
    "check_plan",
    "count_holds",
    "in_order",
    "plan_night",
]
