"""What somebody says about a game, before anything of it is believed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from league.rosters.services.records import CasualtyLine

__all__ = ["CasualtyLine", "ReportClaim", "SideClaim"]


@dataclass(frozen=True, kw_only=True, slots=True)
class SideClaim:
    """One side's part. `score` and `objectives` (count by key): either, both or, after a concession, neither."""

    position: int
    score: int | None = None
    objectives: Mapping[str, int] | None = None
    conceded: bool = False
    casualties: Sequence[CasualtyLine] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class ReportClaim:
    """A whole report. `is_full` says that the casualties were looked at: none named then means none lost."""

    fought_on: date
    sides: Sequence[SideClaim]
    rounds_played: int | None = None
    markers_peak: int | None = None
    notes: str = ""
    is_full: bool = False

    def facts(self) -> dict[str, object]:
        """The claim as plain values, for telling whether two submissions say the same."""
        return {
            "fought_on": self.fought_on,
            "rounds_played": self.rounds_played,
            "markers_peak": self.markers_peak,
            "notes": self.notes,
            "is_full": self.is_full,
            "sides": [
                [
                    side.position,
                    side.score,
                    dict(side.objectives) if side.objectives is not None else None,
                    side.conceded,
                    sorted([line.unit_id, line.figures_lost, line.destroyed, line.routed] for line in side.casualties),
                ]
                for side in self.sides
            ],
        }
