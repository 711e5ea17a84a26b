"""What is read of rosters: their strength, their record, whether they are legal."""

from __future__ import annotations

from league.rosters.queries.fights import engagements_of, fights_of
from league.rosters.queries.files import csv_of_units, document_of
from league.rosters.queries.legality import violations_of, violations_of_rosters
from league.rosters.queries.lists import RosterRow, roster_rows, rosters_of
from league.rosters.queries.records import (
    ImpossibleEngagement,
    RollsWanted,
    ServiceLine,
    impossible_engagements,
    rolls_wanted,
    service_record,
    service_records,
)
from league.rosters.queries.sheets import BattleLine, RosterSheet, UnitLine, roster_sheet
from league.rosters.queries.states import states_of, states_of_rosters

__all__ = [
    "BattleLine",
    "ImpossibleEngagement",
    "RollsWanted",
    "RosterRow",
    "RosterSheet",
    "ServiceLine",
    "UnitLine",
    "csv_of_units",
    "document_of",
    "engagements_of",
    "fights_of",
    "impossible_engagements",
    "rolls_wanted",
    "roster_rows",
    "roster_sheet",
    "rosters_of",
    "service_record",
    "service_records",
    "states_of",
    "states_of_rosters",
    "violations_of",
    "violations_of_rosters",
]
