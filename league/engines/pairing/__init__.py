"""The pairing engine: who plays whom next, why, and what no round could have done better."""

from .berger import RobinRound, berger_table, round_robin
from .lots import lot
from .matching import TooWide
from .model import (
    CRITERIA,
    BadRound,
    Criteria,
    CriterionName,
    Draft,
    DraftBye,
    DraftPairing,
    GaveWay,
    NoRound,
    Pins,
    Player,
    Reason,
    Search,
    Witness,
)
from .swiss import pair_swiss

__all__ = [
    "CRITERIA",
    "BadRound",
    "Criteria",
    "CriterionName",
    "Draft",
    "DraftBye",
    "DraftPairing",
    "GaveWay",
    "NoRound",
    "Pins",
    "Player",
    "Reason",
    "RobinRound",
    "Search",
    "TooWide",
    "Witness",
    "berger_table",
    "lot",
    "pair_swiss",
    "round_robin",
]
