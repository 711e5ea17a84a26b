"""What the seasons room answers when asked; other rooms import from here."""

from league.seasons.queries.documents import document_of, rules_of_season, season_document, season_file
from league.seasons.queries.names import entrant_names, entrant_numbers, own_entrants
from league.seasons.queries.standings import Cell, Comparison, Standings, explain_cell, explain_rank, standings

__all__ = [
    "Cell",
    "Comparison",
    "Standings",
    "document_of",
    "entrant_names",
    "entrant_numbers",
    "explain_cell",
    "explain_rank",
    "own_entrants",
    "rules_of_season",
    "season_document",
    "season_file",
    "standings",
]
