"""What other rooms may read of battles."""

from __future__ import annotations

from league.battles.queries.games import GameLine, SideLine, games_of, latest_reports, lines_of, next_game
from league.battles.queries.results import GameResult, SideOutcome, results_of

__all__ = [
    "GameLine",
    "GameResult",
    "SideLine",
    "SideOutcome",
    "games_of",
    "latest_reports",
    "lines_of",
    "next_game",
    "results_of",
]
