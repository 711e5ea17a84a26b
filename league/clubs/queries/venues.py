"""Where the club plays."""

from __future__ import annotations

from django.db.models import Count, QuerySet
from django.db.models.functions import Lower

from league.clubs.models import Club, Table, Venue

__all__ = ["tables_of", "venues_of"]


def venues_of(club: Club, *, with_closed: bool = True) -> QuerySet[Venue, Venue]:
    """The halls by name, each with the number of its tables as `table_count`."""
    venues: QuerySet[Venue, Venue] = Venue.objects.filter(club=club)
    if not with_closed:
        venues = venues.filter(closed_at=None)
    return venues.annotate(table_count=Count("tables")).order_by(Lower("name"), "pk")


def tables_of(venue: Venue) -> QuerySet[Table, Table]:
    return Table.objects.filter(venue=venue).order_by("number")
