"""The lists of holdings: what is spare, what somebody has, what happened to it."""

from __future__ import annotations

from datetime import date
from typing import Any

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Member
from league.clubs.tables import ClubTable, club_link
from league.stores.models import Holding, Movement
from league.stores.permissions import can_ask_for
from league.stores.queries.holding_words import place_of, what_of, where_of, whose_of
from league.web import Figures
from league.web import Table as Ledger

__all__ = ["HoldingTable", "MovementTable", "SparesTable"]

MINUS = "\N{MINUS SIGN}"


def signed(number: int) -> str:
    """A change as people write it: +3, a true minus, and nothing for none."""
    return "" if not number else f"+{number}" if number > 0 else f"{MINUS}{-number}"


class SparesTable(ClubTable):
    """What is spare, the most first, with a way to ask for it from the row."""

    what = tables.Column(verbose_name=gettext_lazy("What"), accessor="kind__name")
    colour = tables.Column(verbose_name=gettext_lazy("Colour"))
    scale_mm = tables.Column(verbose_name=gettext_lazy("Scale"))
    spare = Figures(verbose_name=gettext_lazy("Spare"))
    whose = tables.Column(verbose_name=gettext_lazy("Whose"), accessor="owner__name", empty_values=())
    where = tables.Column(verbose_name=gettext_lazy("Where"), empty_values=(), orderable=False)
    ask = tables.Column(verbose_name="", empty_values=(), orderable=False, exclude_from_export=True)

    class Meta(Ledger.Meta):
        fields = ("what", "colour", "scale_mm", "spare", "whose", "where", "ask")
        empty_text = gettext_lazy("Nobody has any of it spare.")

    def __init__(self, *args: Any, member: Member, on: date | None, **options: Any) -> None:
        """`on`: the day it is wanted for, which a request to borrow then begins with."""
        self.member = member
        self.day = on
        super().__init__(*args, **options)

    def render_what(self, value: str, record: Holding) -> str:
        return club_link("holding", self.club, record.pk, value)

    def value_what(self, value: str) -> str:
        return value

    def render_scale_mm(self, value: int) -> str:
        return _("%(scale)s mm") % {"scale": value}

    def value_scale_mm(self, value: int) -> int:
        return value

    def render_whose(self, record: Holding) -> str:
        return club_link("player", self.club, record.owner_id, record.owner.name) if record.owner else _("the club")

    def value_whose(self, record: Holding) -> str:
        return whose_of(record)

    def render_where(self, record: Holding) -> str:
        return where_of(record)

    def render_ask(self, record: Holding) -> SafeString | str:
        if not can_ask_for(self.member, record):
            return _("yours")
        address = reverse("loan-new", kwargs={"club": self.club.slug, "pk": record.pk})
        due = f"?due_on={self.day.isoformat()}" if self.day else ""
        words = _("Ask to borrow")
        what = what_of(record)
        return format_html(
            '<a class="button-quiet" href="{}{}">{}<span class="visually-hidden"> {}</span></a>',
            address,
            due,
            words,
            what,
        )


class HoldingTable(ClubTable):
    """Kit of one owner, annotated with `held`, `out`, `promised` and `spare`."""

    what = tables.Column(verbose_name=gettext_lazy("What"), accessor="kind__name")
    colour = tables.Column(verbose_name=gettext_lazy("Colour"))
    scale_mm = tables.Column(verbose_name=gettext_lazy("Scale"))
    held = Figures(verbose_name=gettext_lazy("Held"))
    spare = Figures(verbose_name=gettext_lazy("Spare"))
    out = Figures(verbose_name=gettext_lazy("Lent"))
    where = tables.Column(verbose_name=gettext_lazy("Where"), empty_values=(), orderable=False)
    condition = tables.Column(verbose_name=gettext_lazy("Condition"))

    class Meta(Ledger.Meta):
        fields = ("what", "colour", "scale_mm", "held", "spare", "out", "where", "condition")
        empty_text = gettext_lazy("Nothing written down yet. Add what lies in the kit box; it takes a minute.")

    def render_what(self, value: str, record: Holding) -> str:
        return club_link("holding", self.club, record.pk, value)

    def value_what(self, value: str) -> str:
        return value

    def render_scale_mm(self, value: int) -> str:
        return _("%(scale)s mm") % {"scale": value}

    def value_scale_mm(self, value: int) -> int:
        return value

    def render_where(self, record: Holding) -> str:
        return place_of(record)

    def render_condition(self, record: Holding) -> str:
        return str(record.get_condition_display())


class MovementTable(ClubTable):
    """A holding's record, the latest first, with what there was after each line."""

    at = tables.DateTimeColumn(verbose_name=gettext_lazy("When"), format="j M Y H:i", orderable=False)
    act = tables.Column(verbose_name=gettext_lazy("What"), orderable=False)
    change = Figures(verbose_name=gettext_lazy("Change"), orderable=False)
    held_after = Figures(verbose_name=gettext_lazy("Held"), orderable=False)
    out_after = Figures(verbose_name=gettext_lazy("Lent"), orderable=False)
    by = tables.Column(verbose_name=gettext_lazy("Who"), accessor="by__name", orderable=False)
    reason = tables.Column(verbose_name=gettext_lazy("Why"), orderable=False)

    class Meta(Ledger.Meta):
        fields = ("at", "act", "change", "held_after", "out_after", "by", "reason")

    def render_act(self, record: Movement) -> SafeString | str:
        words = str(record.get_act_display())
        if record.loan_id is None:
            return words
        return format_html("{} {}", words, club_link("loan", self.club, record.loan_id, record.loan.borrower.name))

    def value_act(self, record: Movement) -> str:
        return str(record.get_act_display())

    def render_change(self, value: int) -> str:
        return signed(value)

    def value_change(self, value: int) -> int:
        return value
