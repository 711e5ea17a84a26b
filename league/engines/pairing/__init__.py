"""The pairing engine: who plays whom next, where, why, and what no round could have done better.

`pair_swiss` drafts the next round of games of two from `Player`s as the exact optimum of ordered `Criteria` around the
organiser's `Pins`; every `DraftPairing` has its `Reason`s, every criterion that `GaveWay` says how much, for whom, and
whether any round at all could have kept it, with a `Witness` one can check by hand. `pair_tables` does the same for
tables of three and four (exact for up to twelve entrants, else by improvement; the draft says which). `seat_games` is
the second step: tables large enough and new, scenarios new, exactly. `round_robin` plays by the Berger tables,
`snake_groups`, `seeds_from_groups`, `draw_bracket` and `fixtures_of` are the group stage and the knock-out.

How the optimum is found: `field` has the entrants in numpy columns and the cost of any pairing by each criterion,
`matching` packs costs into whole numbers that compare level by level and gives them to rustworkx, `bounds` says which
pairings of a large field can be left out without loss (with `distance` and `kinds`), `search` puts the three together, `proof` finds witnesses.

A team is an entrant like any other. Nothing here reads a clock or throws dice: lots come from a seed.
"""

from .berger import RobinRound, berger_table, round_robin
from .groups import seeds_from_groups, snake_groups
from .hall import (
    Scenario,
    Seat,
    Seating,
    SeatingCriterion,
    SeatingGaveWay,
    SeatingPins,
    Table,
    ToSeat,
)
from .knockout import Bracket, Fixture, Match, Slot, draw_bracket, fixtures_of, places_of
from .lots import lot
from .many import CRITERIA_OF_TABLES, pair_tables
from .matching import TooWide
from .model import (
    CRITERIA,
    BadRound,
    Criteria,
    CriterionName,
    Draft,
    DraftBye,
    DraftPairing,
    Float,
    GaveWay,
    NoRound,
    Pins,
    Player,
    Reason,
    Role,
    Search,
    Witness,
)
from .swiss import pair_swiss
from .tables import seat_games
from .words import TITLES

__all__ = [
    "CRITERIA",
    "CRITERIA_OF_TABLES",
    "TITLES",
    "BadRound",
    "Bracket",
    "Criteria",
    "CriterionName",
    "Draft",
    "DraftBye",
    "DraftPairing",
    "Fixture",
    "Float",
    "GaveWay",
    "Match",
    "NoRound",
    "Pins",
    "Player",
    "Reason",
    "RobinRound",
    "Role",
    "Scenario",
    "Search",
    "Seat",
    "Seating",
    "SeatingCriterion",
    "SeatingGaveWay",
    "SeatingPins",
    "Slot",
    "Table",
    "ToSeat",
    "TooWide",
    "Witness",
    "berger_table",
    "draw_bracket",
    "fixtures_of",
    "lot",
    "pair_swiss",
    "pair_tables",
    "places_of",
    "round_robin",
    "seat_games",
    "seeds_from_groups",
    "snake_groups",
]
