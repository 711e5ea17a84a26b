"""The book of acts in words. Facts are stored; the sentence is made when somebody reads it, in their language."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import models
from django.db.models import QuerySet
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Club, LogEntry, Member
from league.clubs.permissions import can_run_club

__all__ = ["LogLine", "entries_of", "line_of", "log_of", "put_in_words", "words_of"]

_words: dict[str, str | Promise] = {
    "club_opened": _("opened the club"),
    "club_changed": _("changed the club's description"),
    "guest_added": _("added %(name)s as a guest"),
    "member_joined": _("joined the club"),
    "member_returned": _("came back to the club"),
    "guest_joined": _("%(name)s, until now a guest, joined the club"),
    "name_changed": _("changed the name %(old)s to %(new)s"),
    "offices_changed": _("gave %(name)s the offices: %(offices)s"),
    "junior_marked": _("marked %(name)s as under 18"),
    "junior_unmarked": _("marked %(name)s as no longer under 18"),
    "guardian_changed": _("changed the guardian's contact of %(name)s"),
    "privacy_changed": _("changed what others may see of %(name)s"),
    "member_left": _("left the club"),
    "member_removed": _("took %(name)s off the list of members"),
    "invitation_made": _("made the invitation “%(note)s”"),
    "invitation_revoked": _("revoked the invitation “%(note)s”"),
    "venue_added": _("added the venue %(name)s"),
    "venue_changed": _("changed the venue %(name)s"),
    "venue_closed": _("closed the venue %(name)s"),
    "venue_reopened": _("opened the venue %(name)s again"),
    "table_added": _("added table %(number)s at %(venue)s"),
    "table_changed": _("changed table %(number)s at %(venue)s"),
    "night_planned": _("planned the night of %(on)s"),
    "night_changed": _("changed the night of %(on)s"),
    "night_cancelled": _("cancelled the night of %(on)s"),
    "night_answered": _("%(name)s for the night of %(on)s: %(answer)s"),
}

# Who is a minor, and what organisers noted about whom they invite, is for organisers to read.
_FOR_ORGANISERS = ("junior_marked", "junior_unmarked", "guardian_changed", "invitation_made", "invitation_revoked")


class _Facts(dict[str, Any]):
    """Facts for a sentence; one that an old line does not have shows as an ellipsis rather than as an error."""

    def __missing__(self, key: str) -> str:
        return "…"


@dataclass(frozen=True, kw_only=True, slots=True)
class LogLine:
    at: datetime
    by: str  # empty when the site itself acted
    words: str
    act: str
    subject: str


def put_in_words(acts: Mapping[str, str | Promise]) -> None:
    """Teach the book a room's own acts: code to a lazily translated sentence with `%(fact)s` places.

    A room calls this once, beside its services. An act nobody described is shown by its code in plain letters.
    """
    _words.update(acts)


def words_of(entry: LogEntry) -> str:
    """The sentence of one entry, without who and when."""
    sentence = _words.get(entry.act)
    if sentence is None:
        return entry.act.replace("_", " ")
    return str(sentence) % _Facts(entry.details)


def entries_of(
    club: Club, subject: models.Model | None = None, *, reader: Member | None = None
) -> QuerySet[LogEntry, LogEntry]:
    """The club's entries, the latest first, or only those about one row; some are for a reader who runs the club."""
    entries = LogEntry.objects.filter(club=club).select_related("by").order_by("-pk")
    if not can_run_club(reader):
        entries = entries.exclude(act__in=_FOR_ORGANISERS)
    if subject is not None:
        entries = entries.filter(subject=f"{subject._meta.model_name}:{subject.pk}")  # noqa: SLF001 - documented API
    return entries


def line_of(entry: LogEntry) -> LogLine:
    return LogLine(
        at=entry.at,
        by=entry.by.name if entry.by else "",
        words=words_of(entry),
        act=entry.act,
        subject=entry.subject,
    )


def log_of(
    club: Club, subject: models.Model | None = None, limit: int = 200, *, reader: Member | None = None
) -> list[LogLine]:
    """The latest lines about one row (or about all of the club), in words: one query."""
    return [line_of(entry) for entry in entries_of(club, subject, reader=reader)[:limit]]
