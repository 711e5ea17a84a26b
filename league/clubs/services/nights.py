"""Nights of the club and who comes."""

from __future__ import annotations

from datetime import date, time, timedelta

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.clubs.models import Attendance, Club, Member, Night, Venue
from league.clubs.permissions import can_answer_for
from league.clubs.services.clubs import lock_club
from league.clubs.services.log import log_act
from league.clubs.services.rights import refuse_unless_organiser
from league.clubs.services.texts import too_long
from league.errors import NotYoursToDo, Refused, Violation

__all__ = ["AnswerRefused", "NightRefused", "answer_night", "cancel_night", "change_night", "plan_night"]

FARTHEST = timedelta(days=3 * 366)
FACTS = ["venue", "on", "starts_at", "ends_at", "title", "note"]


class NightRefused(Refused):
    """The night's facts are not in order."""


class AnswerRefused(Refused):
    """The answer to a night cannot be taken."""


@transaction.atomic
def plan_night(
    club: Club,
    *,
    venue: Venue,
    on: date,
    starts_at: time,
    ends_at: time | None = None,
    title: str = "",
    note: str = "",
    by: Member,
) -> Night:
    """Plan a night. The same night once more is the night that is there; a cancelled one is on again.

    `ends_at` before `starts_at` means after midnight.

    Raises:
        NotYoursToDo: not an organiser.
        NightRefused: with every reason.
    """
    refuse_unless_organiser(club, by)
    lock_club(club)
    facts = {
        "venue": venue,
        "on": on,
        "starts_at": starts_at,
        "ends_at": ends_at,
        "title": title.strip(),
        "note": note.strip(),
    }
    rival: Night | None = Night.objects.filter(club=club, venue=venue, on=on, starts_at=starts_at).first()
    if rival is not None and rival.cancelled_at is None:
        if all(getattr(rival, fact) == facts[fact] for fact in FACTS):
            return rival
        raise NightRefused(clash())
    wrong = [
        *wrong_with_night(club, venue, on, starts_at, ends_at),
        *too_long(Night, title=title.strip(), note=note.strip()),
    ]
    if wrong:
        raise NightRefused(wrong)
    if rival is not None:
        Night.objects.filter(pk=rival.pk).update(cancelled_at=None, **facts)
        night = Night.objects.get(pk=rival.pk)
    else:
        night = Night.objects.create(club=club, **facts)
    log_act(club, "night_planned", night, by=by, on=on.isoformat())
    return night


@transaction.atomic
def change_night(
    night: Night,
    *,
    venue: Venue,
    on: date,
    starts_at: time,
    ends_at: time | None,
    title: str,
    note: str,
    by: Member,
) -> Night:
    """Move or describe a night anew; answers stay.

    Raises:
        NotYoursToDo: not an organiser.
        NightRefused: with every reason.
    """
    refuse_unless_organiser(night.club, by)
    lock_club(night.club)
    night.refresh_from_db(fields=["cancelled_at"])
    wrong = [
        *wrong_with_night(night.club, venue, on, starts_at, ends_at, stays=night.venue_id == venue.pk),
        *too_long(Night, title=title.strip(), note=note.strip()),
    ]
    if night.cancelled_at is not None:
        wrong.append(Violation(_("This night was cancelled. Plan it again to change it."), code="cancelled"))
    if Night.objects.filter(club=night.club, venue=venue, on=on, starts_at=starts_at).exclude(pk=night.pk).exists():
        wrong.append(clash())
    if wrong:
        raise NightRefused(wrong)
    night.venue, night.on, night.starts_at, night.ends_at = venue, on, starts_at, ends_at
    night.title, night.note = title.strip(), note.strip()
    night.save(update_fields=FACTS)
    log_act(night.club, "night_changed", night, by=by, on=on.isoformat())
    return night


@transaction.atomic
def cancel_night(night: Night, *, by: Member) -> Night:
    """Call the night off. It stays in the list and says so; cancelling twice is cancelling once.

    Raises:
        NotYoursToDo: not an organiser.
    """
    refuse_unless_organiser(night.club, by)
    now = timezone.now()
    called_off = Night.objects.filter(pk=night.pk, cancelled_at=None).update(cancelled_at=now)
    night.refresh_from_db()
    if called_off:
        log_act(night.club, "night_cancelled", night, by=by, at=now, on=night.on.isoformat())
    return night


@transaction.atomic
def answer_night(night: Night, *, member: Member, answer: str, by: Member) -> Attendance:
    """Say whether a person comes; the last word counts.

    Raises:
        NotYoursToDo: somebody else's answer, and not an organiser.
        AnswerRefused: with every reason.
    """
    wrong = []
    if answer not in Attendance.Answer.values:
        wrong.append(Violation(_("Say coming, perhaps or not coming."), "answer", "unknown"))
    if night.cancelled_at is not None:
        wrong.append(Violation(_("This night was cancelled."), code="cancelled"))
    if member.club_id != night.club_id or member.left_at is not None:
        wrong.append(Violation(_("Choose somebody who is in the club."), "member", "unknown"))
    if wrong:
        raise AnswerRefused(wrong)
    if not can_answer_for(by, night, member):
        raise NotYoursToDo(_("Everyone answers for themselves; organisers also for others."))
    now = timezone.now()
    said, _made = Attendance.objects.update_or_create(
        night=night, member=member, defaults={"answer": answer, "said_at": now}
    )
    log_act(
        night.club, "night_answered", night, by=by, at=now, name=member.name, on=night.on.isoformat(), answer=answer
    )
    return said


def clash() -> Violation:
    return Violation(_("Another night is planned at this venue for this time."), "starts_at", "taken")


def wrong_with_night(
    club: Club, venue: Venue, on: date, starts_at: time, ends_at: time | None, *, stays: bool = False
) -> list[Violation]:
    wrong = []
    if venue.club_id != club.pk:
        wrong.append(Violation(_("Choose a venue of this club."), "venue", "unknown"))
    elif venue.closed_at is not None and not stays:
        wrong.append(Violation(_("This venue is closed."), "venue", "closed"))
    if on > timezone.localdate(timezone=club.zone) + FARTHEST:
        wrong.append(Violation(_("This date is more than three years away. Check the year."), "on", "range"))
    if ends_at == starts_at:
        wrong.append(Violation(_("A night ends at another time than it begins."), "ends_at", "range"))
    return wrong
