"""The club's rosters as lists."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count, Q, QuerySet, Sum
from django.db.models.functions import Coalesce

from accounts.models import User
from league.clubs.models import Club
from league.rosters.models import Roster
from league.rosters.queries.legality import violations_of_rosters

__all__ = ["RosterRow", "roster_rows", "rosters_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class RosterRow:
    """One line of the list; `faults` are what is illegal about the roster, in words."""

    roster: Roster
    units: int
    figures: int
    points: int
    faults: tuple[str, ...]

    @property
    def legal(self) -> bool:
        return not self.faults

    @property
    def fault_count(self) -> int:
        return len(self.faults)


def rosters_of(club: Club, user: User) -> QuerySet[Roster]:
    """The club's rosters this person may see, with `unit_count`, `figure_total` and `points_total`."""
    kept = Q(units__removed_at=None)
    rows: QuerySet[Roster] = (
        Roster.objects.visible_to(user)
        .filter(club=club)
        .select_related("owner", "ruleset")
        .annotate(
            unit_count=Count("units", filter=kept),
            figure_total=Coalesce(Sum("units__figures", filter=kept), 0),
            points_total=Coalesce(Sum("units__points", filter=kept), 0),
        )
    )
    return rows


def roster_rows(rosters: Iterable[Roster]) -> list[RosterRow]:
    """Lines of the list for rosters that come from `rosters_of`: three queries, whatever their number."""
    wanted = list(rosters)
    faults = violations_of_rosters(wanted)
    return [
        RosterRow(
            roster=roster,
            units=roster.unit_count,  # type: ignore[attr-defined]  # annotated by rosters_of
            figures=roster.figure_total,  # type: ignore[attr-defined]
            points=roster.points_total,  # type: ignore[attr-defined]
            faults=tuple(faults[roster.pk]),
        )
        for roster in wanted
    ]
