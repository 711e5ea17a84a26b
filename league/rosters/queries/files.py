"""Rosters as files that an import reads back."""

from __future__ import annotations

from typing import Any

from league.engines.roster_text import ParsedUnit, to_csv
from league.rosters.models import Roster, Unit

__all__ = ["FORMAT", "csv_of_units", "document_of"]

FORMAT = "drumhead roster 1"


def units_kept(roster: Roster) -> list[Unit]:
    return list(Unit.objects.filter(roster=roster, removed_at=None).order_by("position", "pk"))


def csv_of_units(roster: Roster) -> str:
    """The roster's units as CSV, at full establishment."""
    return to_csv(
        ParsedUnit(
            name=unit.name,
            class_key=unit.unit_class,
            figures=unit.figures,
            quality_key=unit.quality,
            points=unit.points,
            gear=tuple(unit.gear),
        )
        for unit in units_kept(roster)
    )


def document_of(roster: Roster) -> dict[str, Any]:
    """The roster as JSON: {"format", "name", "faction", "ruleset", "points_limit", "note", "units": [...]}.

    A unit is {"name", "class", "figures", "quality", "points", "gear"}; class and quality are keys of the ruleset,
    figures the full establishment, gear a list of texts.
    """
    return {
        "format": FORMAT,
        "name": roster.name,
        "faction": roster.faction,
        "ruleset": roster.ruleset.name,
        "points_limit": roster.points_limit,
        "note": roster.note,
        "units": [
            {
                "name": unit.name,
                "class": unit.unit_class,
                "figures": unit.figures,
                "quality": unit.quality,
                "points": unit.points,
                "gear": unit.gear,
            }
            for unit in units_kept(roster)
        ],
    }
