"""A roster's battles as the strength engine takes them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from league.engines import strength
from league.rosters.models import Casualty, Engagement, Rolls, Roster
from league.rulesets.models import Edition
from league.rulesets.queries import rules_of

__all__ = ["engagements_of", "fights_of"]


def engagements_of(roster: Roster) -> list[Engagement]:
    """The roster's standing engagements in order, with their snapshots."""
    return list(Engagement.objects.standing().filter(roster=roster).select_related("snapshot").order_by("sequence"))


def fights_of(engagements: Iterable[Engagement]) -> dict[int, strength.Engagement]:
    """Each engagement with its casualties and dice, by its row's number: two queries, whatever their number.

    Every battle keeps the rules of its snapshot's edition, and every unit the class and quality it had that day.
    """
    rows = list(engagements)
    if not rows:
        return {}
    lines: dict[int, list[strength.Casualty]] = defaultdict(list)
    for casualty in Casualty.objects.filter(engagement__in=rows).select_related("rolls").order_by("pk"):
        lines[casualty.engagement_id].append(line_of(casualty))
    editions = Edition.objects.in_bulk({row.snapshot.edition_id for row in rows})
    return {row.pk: fight(row, lines[row.pk], editions[row.snapshot.edition_id]) for row in rows}


def fight(row: Engagement, lines: Iterable[strength.Casualty], edition: Edition) -> strength.Engagement:
    units: list[Mapping[str, Any]] = row.snapshot.document["units"]
    return strength.Engagement(
        id=row.pk,
        sequence=row.sequence,
        outcome=row.outcome or None,  # type: ignore[arg-type]  # the database keeps it to the three and nothing
        casualties=tuple(lines),
        fielded=frozenset(unit["id"] for unit in units if unit["present"]),
        listed={unit["id"]: as_listed(unit) for unit in units},
        ruleset=rules_of(edition),
    )


def as_listed(unit: Mapping[str, Any]) -> strength.RosterUnit:
    """A unit of a snapshot's document."""
    return strength.RosterUnit(
        id=unit["id"],
        unit_class=unit["class"],
        quality=unit["quality"],
        figures=unit["figures"],
        points=unit["points"],
    )


def line_of(casualty: Casualty) -> strength.Casualty:
    rolls: Rolls | None = getattr(casualty, "rolls", None)
    return strength.Casualty(
        unit_id=casualty.unit_id,
        figures_lost=casualty.figures_lost,
        destroyed=casualty.destroyed,
        routed=casualty.routed,
        rolls=None if rolls is None else tuple(rolls.results),
    )
