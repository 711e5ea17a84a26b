"""Halls and the gaming tables in them."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.clubs.models import Club, Member, Table, Venue
from league.clubs.services.clubs import lock_club
from league.clubs.services.log import log_act
from league.clubs.services.rights import refuse_unless_organiser
from league.clubs.services.texts import too_long
from league.errors import Refused, Violation

__all__ = ["TableRefused", "VenueRefused", "add_table", "add_venue", "change_table", "change_venue"]

SMALLEST_MM, LARGEST_MM = 300, 10_000


class VenueRefused(Refused):
    """The venue's facts are not in order."""


class TableRefused(Refused):
    """The table's facts are not in order."""


@transaction.atomic
def add_venue(club: Club, *, name: str, address: str = "", note: str = "", by: Member) -> Venue:
    """Add a hall. The same hall once more is the hall that is there.

    Raises:
        NotYoursToDo: not an organiser.
        VenueRefused: the name is missing, a text is too long, or another hall bears the name.
    """
    refuse_unless_organiser(club, by)
    lock_club(club)
    name, address, note = name.strip(), address.strip(), note.strip()
    same: Venue | None = Venue.objects.filter(club=club, name=name, address=address, note=note, closed_at=None).first()
    if same is not None:
        return same
    wrong = [*wrong_with_venue(club, name, ()), *too_long(Venue, name=name, address=address, note=note)]
    if wrong:
        raise VenueRefused(wrong)
    venue = Venue.objects.create(club=club, name=name, address=address, note=note)
    log_act(club, "venue_added", venue, by=by, name=name)
    return venue


@transaction.atomic
def change_venue(venue: Venue, *, name: str, address: str, note: str, is_closed: bool = False, by: Member) -> Venue:
    """Describe a hall anew, close it or open it again. Its past nights stay.

    Raises:
        NotYoursToDo: not an organiser.
        VenueRefused: the name is missing, a text is too long, or another hall bears the name.
    """
    refuse_unless_organiser(venue.club, by)
    lock_club(venue.club)
    venue.refresh_from_db(fields=["closed_at"])
    name, address, note = name.strip(), address.strip(), note.strip()
    wrong = [
        *wrong_with_venue(venue.club, name, (venue.pk,)),
        *too_long(Venue, name=name, address=address, note=note),
    ]
    if wrong:
        raise VenueRefused(wrong)
    now = timezone.now()
    was_closed = venue.closed_at is not None
    venue.name, venue.address, venue.note = name, address, note
    venue.closed_at = (venue.closed_at or now) if is_closed else None
    venue.save(update_fields=["name", "address", "note", "closed_at"])
    act = "venue_changed" if was_closed == is_closed else "venue_closed" if is_closed else "venue_reopened"
    log_act(venue.club, act, venue, by=by, at=now, name=venue.name)
    return venue


@transaction.atomic
def add_table(venue: Venue, *, number: int, width_mm: int, depth_mm: int, note: str = "", by: Member) -> Table:
    """Put a table into a hall; sizes in whole millimetres. The same table once more is the table that is there.

    Raises:
        NotYoursToDo: not an organiser.
        TableRefused: with every reason.
    """
    refuse_unless_organiser(venue.club, by)
    lock_club(venue.club)
    note = note.strip()
    same = Table.objects.filter(venue=venue, number=number, width_mm=width_mm, depth_mm=depth_mm, note=note).first()
    if same is not None:
        return same
    wrong = [*wrong_with_table(venue, number, width_mm, depth_mm, ()), *too_long(Table, note=note)]
    if wrong:
        raise TableRefused(wrong)
    table = Table.objects.create(venue=venue, number=number, width_mm=width_mm, depth_mm=depth_mm, note=note)
    log_act(venue.club, "table_added", table, by=by, number=number, venue=venue.name)
    return table


@transaction.atomic
def change_table(table: Table, *, number: int, width_mm: int, depth_mm: int, note: str, by: Member) -> Table:
    """Number, measure or describe a table anew.

    Raises:
        NotYoursToDo: not an organiser.
        TableRefused: with every reason.
    """
    refuse_unless_organiser(table.venue.club, by)
    lock_club(table.venue.club)
    note = note.strip()
    wrong = [*wrong_with_table(table.venue, number, width_mm, depth_mm, (table.pk,)), *too_long(Table, note=note)]
    if wrong:
        raise TableRefused(wrong)
    table.number, table.width_mm, table.depth_mm, table.note = number, width_mm, depth_mm, note
    table.save(update_fields=["number", "width_mm", "depth_mm", "note"])
    log_act(table.venue.club, "table_changed", table, by=by, number=number, venue=table.venue.name)
    return table


def wrong_with_venue(club: Club, name: str, but: tuple[int, ...]) -> list[Violation]:
    if not name:
        return [Violation(_("Enter the venue's name."), "name", "missing")]
    if Venue.objects.filter(club=club, name=name).exclude(pk__in=but).exists():
        return [Violation(_("The club has a venue of this name already."), "name", "taken")]
    return []


def wrong_with_table(venue: Venue, number: int, width_mm: int, depth_mm: int, but: tuple[int, ...]) -> list[Violation]:
    wrong = []
    if number < 1:
        wrong.append(Violation(_("Tables are numbered from 1."), "number", "range"))
    elif Table.objects.filter(venue=venue, number=number).exclude(pk__in=but).exists():
        words = _("%(venue)s has a table %(number)s already.") % {"venue": venue.name, "number": number}
        wrong.append(Violation(words, "number", "taken"))
    words = _("A table is between 30 cm and 10 m long on each side.")
    wrong += [
        Violation(words, field, "range")
        for field, length in (("width_mm", width_mm), ("depth_mm", depth_mm))
        if not SMALLEST_MM <= length <= LARGEST_MM
    ]
    return wrong
