"""What the seasons room answers when asked; other rooms import from here."""

from league.seasons.queries.documents import document_of, rules_of_season, season_document, season_file
from league.seasons.queries.names import entrant_names
from league.seasons.queries.standings import Cell, Standings, explain_cell, standings

__all__ = [
    "Cell",
    "Standings",
    "document_of",
    "entrant_names",
    "explain_cell",
    "rules_of_season",
    "season_document",
    "season_file",
    "standings",
]
