"""Supply: what each force of a campaign gets this turn, exactly, and why it gets no more."""

from __future__ import annotations

from league.engines.supply.distribute import distribute
from league.engines.supply.model import (
    BadSituation,
    Barrier,
    Cut,
    Delivery,
    Distribution,
    Force,
    ForceSupply,
    RoadUse,
    Sending,
    Sent,
    Situation,
    Step,
    Stock,
    StockUse,
    SupplyState,
)
from league.engines.supply.sendings import send

__all__ = [
    "BadSituation",
    "Barrier",
    "Cut",
    "Delivery",
    "Distribution",
    "Force",
    "ForceSupply",
    "RoadUse",
    "Sending",
    "Sent",
    "Situation",
    "Step",
    "Stock",
    "StockUse",
    "SupplyState",
    "distribute",
    "send",
]
