"""What other rooms may read of battles."""

from __future__ import annotations

from league.battles.queries.results import GameResult, SideOutcome, results_of

__all__ = ["GameResult", "SideOutcome", "results_of"]
