"""What an organiser fixes in a round before it is drafted."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Member, Table
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.engines.documents.season_draft import DRAFTED
from league.errors import Refused, Violation
from league.seasons.models import Entrant, Pin, PinSeat, Round, Season
from league.seasons.queries.documents import pairing_of_season
from league.seasons.services.seasons import SeasonRefused, open_season

__all__ = ["RoundPublished", "pin_bye", "pin_pairing", "pin_table", "unpin", "unpublished"]

PAIR = 2
MANY = frozenset({3, 4})

put_in_words(
    {
        "pin_set": gettext_lazy("pinned in round %(number)s: %(names)s"),
        "pin_removed": gettext_lazy("took a pin out of round %(number)s: %(names)s"),
    }
)


class RoundPublished(Refused):
    """Everybody can see the round already; it is never paired anew."""

    status = 409


@transaction.atomic
def pin_pairing(in_round: Round, *, entrant_ids: Sequence[int], table: Table | None = None, by: Member) -> Pin:
    """Fix that two meet (in games of more sides: three or four); the rest of the round is paired around them.

    Raises:
        NotYoursToDo, SeasonClosed, RoundPublished
        SeasonRefused: with everything that is wrong.
    """
    season, current = unpublished(in_round, by=by)
    faults = []
    sizes = {PAIR} if pairing_of_season(season).sides == PAIR else MANY
    if len(entrant_ids) not in sizes or len(set(entrant_ids)) < len(entrant_ids):
        words = _("Say which two meet.") if sizes == {PAIR} else _("Say which three or four meet.")
        faults.append(Violation(words, "entrant_ids", "sides"))
    return write_pin(season, current, Pin.Kind.PAIRING, entrant_ids, table=table, faults=faults, by=by)


@transaction.atomic
def pin_bye(in_round: Round, *, entrant_id: int, by: Member) -> Pin:
    """Fix who sits out with the points of a bye.

    Raises: as `pin_pairing`.
    """
    season, current = unpublished(in_round, by=by)
    return write_pin(season, current, Pin.Kind.BYE, [entrant_id], table=None, faults=[], by=by)


@transaction.atomic
def pin_table(in_round: Round, *, entrant_id: int, table: Table, by: Member) -> Pin:
    """Fix at which table an entrant plays, whoever the opponent is.

    Raises: as `pin_pairing`.
    """
    season, current = unpublished(in_round, by=by)
    return write_pin(season, current, Pin.Kind.TABLE, [entrant_id], table=table, faults=[], by=by)


@transaction.atomic
def unpin(pin: Pin, *, by: Member) -> Pin:
    """Take a pin out. Taking it out twice is taking it out once.

    Raises: NotYoursToDo, SeasonClosed, RoundPublished
    """
    season, current = unpublished(pin.round, by=by)
    now = timezone.now()
    if Pin.objects.filter(pk=pin.pk, removed_at=None).update(removed_at=now):
        pin.seats.update(removed_at=now)
        names = ", ".join(seat.entrant.name for seat in pin.seats.select_related("entrant").order_by("position"))
        log_act(season.club, "pin_removed", season, by=by, at=now, number=current.number, names=names)
    pin.refresh_from_db()
    return pin


def unpublished(in_round: Round, *, by: Member) -> tuple[Season, Round]:
    """The season, locked, and its round as it is now, for an act that only an unpublished round allows.

    Raises: NotYoursToDo, SeasonClosed, RoundPublished
    """
    season = open_season(in_round.season, by=by)
    current = Round.objects.select_related("season__club", "season__ruleset", "published_by").get(pk=in_round.pk)
    if current.published_at is not None:
        raise RoundPublished(already_published(current))
    return season, current


def already_published(current: Round) -> str:
    zone = current.season.club.zone
    by, at = current.published_by, current.published_at
    words = _("%(round)s was published by %(name)s on %(at)s. What is published is not paired anew.")
    return words % {
        "round": current,
        "name": by.name if by else "",
        "at": timezone.localtime(at, zone).strftime("%Y-%m-%d %H:%M") if at else "",
    }


def write_pin(
    season: Season,
    current: Round,
    kind: str,
    entrant_ids: Sequence[int],
    *,
    table: Table | None,
    faults: list[Violation],
    by: Member,
) -> Pin:
    found = Entrant.objects.filter(season=season).in_bulk(set(entrant_ids))
    faults = [*faults, *faults_of_pin(season, current, kind, entrant_ids, found, table=table)]
    if faults:
        raise SeasonRefused(faults)
    now = timezone.now()
    pin = Pin.objects.create(round=current, kind=kind, table=table, by=by, at=now)
    PinSeat.objects.bulk_create(
        PinSeat(pin=pin, round=current, entrant_id=pk, position=position, is_table=kind == Pin.Kind.TABLE)
        for position, pk in enumerate(entrant_ids, start=1)
    )
    names = ", ".join(found[pk].name for pk in entrant_ids)
    log_act(season.club, "pin_set", season, by=by, at=now, number=current.number, names=names)
    return pin


def faults_of_pin(
    season: Season,
    current: Round,
    kind: str,
    entrant_ids: Sequence[int],
    found: dict[int, Entrant],
    *,
    table: Table | None,
) -> list[Violation]:
    place = "entrant_ids"
    faults = []
    if season.format not in DRAFTED or current.is_open_play:
        faults.append(Violation(_("The rounds of this season are not drafted."), code="not_drafted"))
    if season.format != Season.Format.SWISS and kind != Pin.Kind.TABLE:
        faults.append(Violation(_("Its format says who meets whom; only tables can be pinned."), code="fixed"))
    if any(pk not in found for pk in entrant_ids):
        faults.append(Violation(_("Somebody is not in this season."), place, "not_of_season"))
    faults += [
        Violation(_("%(name)s has left the season and cannot be pinned.") % {"name": row.name}, place, "left")
        for row in found.values()
        if row.left_at is not None
    ]
    if kind == Pin.Kind.PAIRING and len({row.division_id for row in found.values()}) > 1:
        faults.append(Violation(_("They are in different divisions."), place, "divisions"))
    seated = current.seats.filter(removed_at=None, entrant__in=found).select_related("entrant")
    faults += [
        Violation(_("%(name)s is paired in this round already.") % {"name": seat.entrant.name}, place, "seated")
        for seat in seated
    ]
    pinned = PinSeat.objects.filter(
        round=current, removed_at=None, entrant__in=found, is_table=kind == Pin.Kind.TABLE
    ).select_related("entrant")
    faults += [
        Violation(_("%(name)s is pinned already.") % {"name": seat.entrant.name}, place, "pinned") for seat in pinned
    ]
    if table is not None and table.venue.club_id != season.club_id:
        faults.append(Violation(_("This table is not one of the club's."), "table", "not_of_club"))
    return faults
