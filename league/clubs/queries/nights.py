"""When the club meets, and who is coming."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db.models import Count, F, FilteredRelation, Q, QuerySet
from django.db.models.functions import Lower

from league.clubs.models import Attendance, Club, Member, Night

__all__ = ["AttendanceLine", "attendance_of", "next_night", "nights_of", "past_nights", "upcoming"]

# Those who come first; those who said nothing before those who stay away: one may still ask them.
ORDER = {"coming": 0, "maybe": 1, "": 2, "away": 3}


@dataclass(frozen=True, kw_only=True, slots=True)
class AttendanceLine:
    """One person of the club and what they last said about a night; `answer` is empty when they said nothing."""

    member: Member
    answer: str
    said_at: datetime | None


def nights_of(club: Club) -> QuerySet[Night, Night]:
    """All nights with their venue and, as `coming`, how many said they come."""
    coming: Any = Count("attendance", filter=Q(attendance__answer=Attendance.Answer.COMING))
    nights: QuerySet[Night, Night] = Night.objects.filter(club=club).select_related("venue").annotate(coming=coming)
    return nights


def upcoming(club: Club, today: date) -> QuerySet[Night, Night]:
    """Tonight and later, the nearest first; cancelled ones stay in the list and say so."""
    return nights_of(club).filter(on__gte=today).order_by("on", "starts_at", "pk")


def past_nights(club: Club, today: date) -> QuerySet[Night, Night]:
    """Before today, the latest first."""
    return nights_of(club).filter(on__lt=today).order_by("-on", "-starts_at", "-pk")


def next_night(club: Club, today: date) -> Night | None:
    """The nearest night from today on that has not been cancelled."""
    return upcoming(club, today).filter(cancelled_at=None).first()


def attendance_of(night: Night) -> list[AttendanceLine]:
    """Everybody in the club today and what they said, those who come first: one query."""
    people: Any = (
        Member.objects.present()
        .filter(club=night.club_id)
        .annotate(said=FilteredRelation("attendance", condition=Q(attendance__night=night)))
        .annotate(answer=F("said__answer"), said_at=F("said__said_at"))
        .order_by(Lower("name"), "pk")
    )
    lines = [AttendanceLine(member=each, answer=each.answer or "", said_at=each.said_at) for each in people]
    return sorted(lines, key=lambda line: ORDER[line.answer])
