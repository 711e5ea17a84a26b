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
    Situation,
    Step,
    Stock,
    StockUse,
    SupplyState,
)

__all__ = [
    "BadSituation",
    "Barrier",
    "Cut",
    "Delivery",
    "Distribution",
    "Force",
    "ForceSupply",
    "RoadUse",
    "Situation",
    "Step",
    "Stock",
    "StockUse",
    "SupplyState",
    "distribute",
]
