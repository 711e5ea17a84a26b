"""Sending everybody what they bring to a night, by mail."""

from __future__ import annotations

from datetime import date

from django.core.mail import send_mail
from django.db import transaction
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from league.clubs.models import Member, Night
from league.clubs.services.log import log_act
from league.errors import NotYoursToDo, Refused, Violation
from league.stores import permissions
from league.stores.models import PackingReminder
from league.stores.queries import packing_lists, plan_for
from league.stores.queries.lists import PackingList, PackLine

__all__ = ["remind_of_packing"]


@transaction.atomic
def remind_of_packing(night: Night, *, by: Member | None) -> list[Member]:
    """Mail their packing list to all who bring something and have an address, once on one day; who was sent one now.

    `by` None: the clock, not a person.

    Raises:
        NotYoursToDo: `by` does not keep the stores.
        Refused: the night is over or was cancelled.
    """
    if by is not None and not permissions.can_keep_stores(by, night.club):
        raise NotYoursToDo(_("Those who keep the stores remind of what is to be packed."))
    now = timezone.now()
    today = timezone.localdate(now, timezone=night.club.zone)
    if night.cancelled_at is not None or night.on < today:
        raise Refused(Violation(_("This night is over, or was cancelled."), code="past"))
    lists = {each.member: each for each in packing_lists(plan_for(night, today=today)) if lines_of(each)}
    people = Member.objects.present().filter(pk__in=lists, user__isnull=False).select_related("user").order_by("pk")
    sent = [who for who in people if is_first(night, who, today, by)]
    for who in sent:
        subject, text = letter(night, who, lists[who.pk])
        post(subject, text, who)
    if sent:
        log_act(night.club, "packing_reminded", night, by=by, at=now, count=len(sent))
    return sent


def is_first(night: Night, who: Member, today: date, by: Member | None) -> bool:
    """Whether nobody sent it today; two who press at once are told apart by the database."""
    _row, is_new = PackingReminder.objects.get_or_create(night=night, member=who, sent_on=today, defaults={"by": by})
    return is_new


def post(subject: str, text: str, who: Member) -> None:
    address = who.user.email if who.user else ""
    transaction.on_commit(lambda: send_mail(subject, text, None, [address]), robust=True)


def lines_of(packing: PackingList) -> list[PackLine]:
    return [line for line in packing.lines if line.count]


def letter(night: Night, who: Member, packing: PackingList) -> tuple[str, str]:
    """The subject and the text, in plain words."""
    facts = {
        "name": who.name,
        "club": night.club.name,
        "on": date_format(night.on),
        "venue": night.venue.name if night.venue else "",
        "lines": "\n".join(in_words(line) for line in lines_of(packing)),
    }
    subject = _("%(club)s: what you bring on %(on)s") % facts
    text = _(
        "Hello %(name)s,\n\n"
        "for the night on %(on)s, %(venue)s, please bring:\n\n"
        "%(lines)s\n\n"
        "If you cannot, say so on the night's page: the plan is made anew.\n\n"
        "%(club)s\n"
    )
    return subject, text % facts


def in_words(line: PackLine) -> str:
    packed = " " + _("(packed)") if line.is_packed else ""
    tables = ", ".join(f"{each.table.name}: {each.count}" for each in line.tables)
    return f"- {line.count} × {line.name}{packed} – {tables}"
