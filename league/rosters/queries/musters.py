"""A roster's musters as the strength engine takes them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from league.engines import strength
from league.rosters.models import Muster, Roster

__all__ = ["as_roll_call", "event_id", "musters_of"]


def musters_of(rosters: Iterable[Roster], before_sequence: int | None = None) -> dict[int, list[Muster]]:
    """The standing musters of each roster, in order: one query."""
    rows = Muster.objects.standing().filter(unit__roster__in=list(rosters)).select_related("unit")
    if before_sequence is not None:
        rows = rows.filter(sequence__lt=before_sequence)
    found: dict[int, list[Muster]] = defaultdict(list)
    for row in rows.order_by("sequence", "pk"):
        found[row.unit.roster_id].append(row)
    return found


def as_roll_call(row: Muster) -> strength.Muster:
    return strength.Muster(
        id=event_id(row), sequence=row.sequence, unit_id=row.unit_id, joined=row.joined, left=row.left
    )


def event_id(row: Muster) -> str:
    """Names the muster among the events of a roster, whose battles go by their number."""
    return f"muster:{row.pk}"
