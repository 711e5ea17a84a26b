"""The lists of the club room."""

from __future__ import annotations

from typing import Any

import django_tables2 as tables
from django.urls import NoReverseMatch, reverse
from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Attendance, Club, LogEntry, Member, Night, Role, Table, Venue
from league.clubs.queries import AttendanceLine, InvitationState, words_of
from league.engines import sizes
from league.web import Days, Figures
from league.web import Table as Ledger

__all__ = [
    "AttendanceTable",
    "BookTable",
    "InvitationTable",
    "MemberTable",
    "NightTable",
    "TablesTable",
    "VenueTable",
]


def club_link(name: str, club: Club, pk: int, words: object) -> str:
    """A link into the club, or the bare words where no page of that name exists."""
    try:
        return format_html('<a href="{}">{}</a>', reverse(name, kwargs={"club": club.slug, "pk": pk}), words)
    except NoReverseMatch:
        return format_html("{}", words)


class ClubTable(Ledger):
    """A list inside a club: knows the club for its links, and whether the reader runs it."""

    def __init__(self, *args: Any, club: Club, runs: bool = False, **options: Any) -> None:
        self.club = club
        self.runs = runs
        super().__init__(*args, **options)


class MemberTable(ClubTable):
    name = tables.Column(verbose_name=gettext_lazy("Name"))
    roles = tables.Column(verbose_name=gettext_lazy("Role"), orderable=False)
    joined_at = tables.DateColumn(verbose_name=gettext_lazy("Since"))
    is_junior = tables.Column(verbose_name=gettext_lazy("Under 18"))
    edit = tables.Column(verbose_name="", accessor="pk", orderable=False, exclude_from_export=True, empty_values=())

    class Meta(Ledger.Meta):
        fields = ("name", "roles", "joined_at", "is_junior", "edit")
        empty_text = gettext_lazy("Nobody fits. Take a filter away to see everyone.")

    def __init__(self, *args: Any, runs: bool = False, **options: Any) -> None:
        hidden = () if runs else ("is_junior", "edit")
        super().__init__(*args, runs=runs, exclude=hidden, **options)

    def render_name(self, value: str, record: Member) -> str:
        return club_link("player", self.club, record.pk, value)

    def value_name(self, value: str) -> str:
        return value

    def render_roles(self, value: list[Role]) -> str:
        return ", ".join(str(role.label) for role in value)

    def render_is_junior(self, value: bool) -> str:  # noqa: FBT001 - the cell's own value
        return _("under 18") if value else ""

    def render_edit(self, record: Member) -> str:
        words = format_html('{}<span class="visually-hidden"> {}</span>', _("Change"), record.name)
        return club_link("member-edit", self.club, record.pk, words)


class InvitationTable(ClubTable):
    note = tables.Column(verbose_name=gettext_lazy("For"), empty_values=())
    offices = tables.Column(verbose_name=gettext_lazy("Makes"), empty_values=(), orderable=False)
    uses = Figures(verbose_name=gettext_lazy("Joined"))
    created_by = tables.Column(verbose_name=gettext_lazy("Made by"), accessor="created_by__name")
    created_at = tables.DateColumn(verbose_name=gettext_lazy("Made"))
    expires_at = tables.DateColumn(verbose_name=gettext_lazy("Expires"))
    state = tables.Column(verbose_name=gettext_lazy("State"))
    revoke = tables.TemplateColumn(
        template_name="clubs/invitation_revoke.html",
        verbose_name="",
        orderable=False,
        exclude_from_export=True,
    )

    class Meta(Ledger.Meta):
        fields = ("note", "offices", "uses", "created_by", "created_at", "expires_at", "state", "revoke")
        empty_text = gettext_lazy("No invitations yet. Make one and send its link to a new member.")

    def render_note(self, record: Any) -> str:
        return record.note or (record.guest.name if record.guest else _("anyone who has the link"))

    def render_offices(self, record: Any) -> str:
        held = [
            str(role.label)
            for role, gives in (
                (Role.ORGANISER, record.makes_organiser),
                (Role.UMPIRE, record.makes_umpire),
                (Role.QUARTERMASTER, record.makes_quartermaster),
            )
            if gives
        ]
        return ", ".join(held or [str(Role.MEMBER.label)])

    def render_uses(self, record: Any) -> str:
        return _("%(uses)s of %(allowed)s") % {"uses": record.uses, "allowed": record.uses_allowed}

    def render_state(self, value: str) -> str:
        return str(InvitationState(value).label)


class VenueTable(ClubTable):
    name = tables.Column(verbose_name=gettext_lazy("Venue"))
    address = tables.Column(verbose_name=gettext_lazy("Address"))
    table_count = Figures(verbose_name=gettext_lazy("Tables"))
    closed_at = tables.Column(verbose_name=gettext_lazy("State"), empty_values=())

    class Meta(Ledger.Meta):
        fields = ("name", "address", "table_count", "closed_at")
        empty_text = gettext_lazy("No venue yet. An organiser adds the hall you play in.")

    def render_name(self, value: str, record: Venue) -> str:
        return club_link("venue", self.club, record.pk, value)

    def value_name(self, value: str) -> str:
        return value

    def render_closed_at(self, record: Venue) -> str:
        return _("closed") if record.closed_at else _("in use")


class TablesTable(ClubTable):
    number = Figures(verbose_name=gettext_lazy("Table"))
    size = tables.Column(verbose_name=gettext_lazy("Size"), empty_values=(), order_by=("width_mm", "depth_mm"))
    note = tables.Column(verbose_name=gettext_lazy("Note"))
    edit = tables.Column(verbose_name="", empty_values=(), orderable=False, exclude_from_export=True)

    class Meta(Ledger.Meta):
        fields = ("number", "size", "note", "edit")
        empty_text = gettext_lazy("No table yet. An organiser adds them by number and size.")

    def __init__(self, *args: Any, runs: bool = False, **options: Any) -> None:
        super().__init__(*args, runs=runs, exclude=() if runs else ("edit",), **options)

    def render_size(self, record: Table) -> str:
        return sizes.as_text(sizes.Size(width_mm=record.width_mm, depth_mm=record.depth_mm))

    def render_edit(self, record: Table) -> str:
        address = reverse("table-edit", kwargs={"club": self.club.slug, "venue": record.venue_id, "pk": record.pk})
        return format_html('<a href="{}">{}<span class="visually-hidden"> {}</span></a>', address, _("Change"), record)


class NightTable(ClubTable):
    on = Days(verbose_name=gettext_lazy("Date"))
    starts_at = tables.TimeColumn(verbose_name=gettext_lazy("From"), format="H:i")
    title = tables.Column(verbose_name=gettext_lazy("Night"), empty_values=())
    venue = tables.Column(verbose_name=gettext_lazy("Venue"), accessor="venue__name")
    coming = Figures(verbose_name=gettext_lazy("Coming"))
    cancelled_at = tables.Column(verbose_name=gettext_lazy("State"), empty_values=(), orderable=False)

    class Meta(Ledger.Meta):
        fields = ("on", "starts_at", "title", "venue", "coming", "cancelled_at")
        empty_text = gettext_lazy("No night here yet.")

    def render_title(self, record: Night) -> str:
        return club_link("night", self.club, record.pk, record.title or _("Club night"))

    def value_title(self, record: Night) -> str:
        return record.title or _("Club night")

    def render_cancelled_at(self, record: Night) -> str:
        return _("cancelled") if record.cancelled_at else _("planned")


class AttendanceTable(ClubTable):
    name = tables.Column(verbose_name=gettext_lazy("Name"), accessor="member__name")
    answer = tables.Column(verbose_name=gettext_lazy("Answer"), empty_values=())
    say = tables.TemplateColumn(
        template_name="clubs/night_answer_for.html",
        verbose_name=gettext_lazy("Answer for them"),
        orderable=False,
        exclude_from_export=True,
    )

    class Meta(Ledger.Meta):
        fields = ("name", "answer", "say")
        empty_text = gettext_lazy("Nobody is in the club yet.")

    def __init__(self, *args: Any, night: Night, runs: bool = False, **options: Any) -> None:
        self.night = night
        super().__init__(*args, runs=runs, exclude=() if runs else ("say",), **options)

    def render_answer(self, record: AttendanceLine) -> str:
        return str(Attendance.Answer(record.answer).label) if record.answer else _("no answer yet")


class BookTable(ClubTable):
    at = tables.DateTimeColumn(verbose_name=gettext_lazy("When"), format="j M Y H:i")
    by = tables.Column(verbose_name=gettext_lazy("Who"), accessor="by__name", default=gettext_lazy("the site"))
    words = tables.Column(verbose_name=gettext_lazy("What"), empty_values=(), orderable=False)

    class Meta(Ledger.Meta):
        fields = ("at", "by", "words")
        empty_text = gettext_lazy("Nothing is written here yet.")

    def render_words(self, record: LogEntry) -> str:
        kind, _colon, pk = record.subject.partition(":")
        return club_link({"member": "player"}.get(kind, kind), self.club, int(pk), words_of(record))

    def value_words(self, record: LogEntry) -> str:
        return words_of(record)
