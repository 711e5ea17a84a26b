"""The lists of the ruleset room."""

from __future__ import annotations

from typing import Any

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.tables import ClubTable, club_link
from league.web import Figures
from league.web import Table as Ledger

__all__ = ["EditionTable", "RulesetTable"]


class RulesetTable(ClubTable):
    name = tables.Column(verbose_name=gettext_lazy("Ruleset"))
    number = Figures(verbose_name=gettext_lazy("Edition"))
    changed_at = tables.DateColumn(verbose_name=gettext_lazy("Since"))
    roster_count = Figures(verbose_name=gettext_lazy("Rosters"))
    retired_at = tables.Column(verbose_name=gettext_lazy("State"), empty_values=())

    class Meta(Ledger.Meta):
        fields = ("name", "number", "changed_at", "roster_count", "retired_at")
        empty_text = gettext_lazy("No ruleset yet. An organiser or umpire describes the first one.")

    def render_name(self, value: str, record: Any) -> str:
        return club_link("ruleset", self.club, record.pk, value)

    def value_name(self, value: str) -> str:
        return value

    def render_retired_at(self, value: Any) -> str:
        return _("retired") if value else _("in use")


class EditionTable(ClubTable):
    number = Figures(verbose_name=gettext_lazy("Edition"))
    note = tables.Column(verbose_name=gettext_lazy("What changed"), empty_values=())
    created_at = tables.DateColumn(verbose_name=gettext_lazy("Made"))
    created_by = tables.Column(verbose_name=gettext_lazy("By"), accessor="created_by__name")

    class Meta(Ledger.Meta):
        fields = ("number", "note", "created_at", "created_by")

    def render_number(self, value: int, record: Any) -> str:
        kwargs = {"club": self.club.slug, "pk": record.ruleset_id, "number": value}
        return format_html('<a href="{}">{}</a>', reverse("ruleset-edition", kwargs=kwargs), value)

    def value_number(self, value: int) -> int:
        return value

    def render_note(self, record: Any) -> str:
        return record.note or (_("as first described") if record.number == 1 else "–")
