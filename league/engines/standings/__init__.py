"""The standings engine: from the games of a season to its table, and from any number in it back to the games.

What goes in (`model`, `rules`): `Entrant`, `Game` with its `Side`s, `Adjustment`, and `Rules`: the scoring `Scheme`
with its `Bonus`es, the ordered `TieBreak`s, the policy for unplayed rounds, what becomes of the results of leavers,
points or points per game, and the seed of the lots. All of it is data; no game system is built in.

What comes out (`table`): a `Table` of `Row`s, made when first asked for. Entrants level on everything share a rank,
unless lots were drawn. `explain(table, entrant_id, column)` gives the `Reason`s of one cell, which add up to it.

How it is counted: `Ledger` holds the season in numpy columns, one row per appearance and one edge per ordered pair of
opponents; `points` scores the appearances, `unplayed` says what unplayed rounds are worth, `tiebreaks` and `direct`
give one column per tie-break, `groups` splits those who are level. `standings` starts from dataclasses, which
`check` goes through first (`BadSeason` has everything wrong with them); `standings_of_ledger` starts from columns.

Numbers are exact throughout: points are half-points (`_x2`), Buchholz and the progressive score too,
Sonneborn-Berger is in quarter-points, ratios are `Fraction`s (`SCALE` has what to divide by). No float is compared.
A season of 10,000 entrants and 11 rounds is ranked in some tens of milliseconds and the time grows with its size.
"""

from .check import BadSeason, violations_of
from .ledger import Appearances, Ledger
from .model import Adjustment, Entrant, Game, Outcome, Side, Unplayed
from .reasons import explain
from .rules import (
    SCALE,
    Bonus,
    BonusKind,
    DirectPiece,
    Leavers,
    RankBy,
    Rules,
    Scheme,
    TieBreak,
    TieBreakName,
    UnplayedPolicy,
)
from .standing import standings, standings_of_ledger
from .table import Reason, Row, Table, TieBreakValue

__all__ = [
    "SCALE",
    "Adjustment",
    "Appearances",
    "BadSeason",
    "Bonus",
    "BonusKind",
    "DirectPiece",
    "Entrant",
    "Game",
    "Leavers",
    "Ledger",
    "Outcome",
    "RankBy",
    "Reason",
    "Row",
    "Rules",
    "Scheme",
    "Side",
    "Table",
    "TieBreak",
    "TieBreakName",
    "TieBreakValue",
    "Unplayed",
    "UnplayedPolicy",
    "explain",
    "standings",
    "standings_of_ledger",
    "violations_of",
]
