"""Rosters as people have them: a spreadsheet saved as CSV, a JSON file, lines pasted from a message."""

from __future__ import annotations

from league.engines.roster_text.model import BadLine, ParsedRoster, ParsedUnit
from league.engines.roster_text.parse import parse_roster
from league.engines.roster_text.table import to_csv

__all__ = ["BadLine", "ParsedRoster", "ParsedUnit", "parse_roster", "to_csv"]
