"""The lists of seasons, entrants, rounds and adjustments."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import django_tables2 as tables
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.seasons.models import Adjustment, Entrant, Round, Season
from league.seasons.tables.rows import OfClub
from league.web import Days, Figures, HalfPoints, Table

__all__ = ["AdjustmentTable", "EntrantTable", "RoundTable", "SeasonTable"]


class SeasonTable(OfClub):
    name = tables.Column(verbose_name=gettext_lazy("Season"))
    starts_on = Days(verbose_name=gettext_lazy("From"))
    ends_on = Days(verbose_name=gettext_lazy("Until"))
    entrant_count = Figures(verbose_name=gettext_lazy("Taking part"))
    closed_at = tables.Column(verbose_name=gettext_lazy("State"), empty_values=())
    table = tables.Column(verbose_name="", empty_values=(), orderable=False, exclude_from_export=True)

    class Meta(Table.Meta):
        fields = ("name", "starts_on", "ends_on", "entrant_count", "closed_at", "table")
        empty_text = gettext_lazy("No season yet.")

    def render_name(self, value: str, record: Season) -> SafeString:
        return format_html('<a href="{}">{}</a>', self.address("season", pk=record.pk), value)

    def value_name(self, value: str) -> str:
        return value

    def render_closed_at(self, record: Season) -> str:
        return _("closed") if record.closed_at else _("open")

    def render_table(self, record: Season) -> SafeString:
        words = format_html('{}<span class="visually-hidden"> {}</span>', _("Table"), record.name)
        return format_html('<a href="{}">{}</a>', self.address("standings", pk=record.pk), words)


class EntrantTable(OfClub):
    name = tables.Column(verbose_name=gettext_lazy("Entrant"))
    players = tables.Column(verbose_name=gettext_lazy("Players"), empty_values=(), orderable=False)
    left_at = tables.Column(verbose_name=gettext_lazy("State"), empty_values=())
    acts = tables.Column(verbose_name="", empty_values=(), orderable=False, exclude_from_export=True)

    class Meta(Table.Meta):
        fields = ("name", "players", "left_at", "acts")
        empty_text = gettext_lazy("Nobody has entered yet.")

    def __init__(self, *args: Any, runs: bool = False, names: Mapping[str, str], member: bool, **options: Any) -> None:
        self.names = names
        hidden = [*(() if runs else ["acts"]), *(() if member else ["players"])]
        super().__init__(*args, runs=runs, exclude=hidden, **options)

    def render_name(self, record: Entrant) -> str:
        return self.names[record.key]

    def render_players(self, record: Entrant) -> SafeString:
        links = ((self.address("player", pk=player.member_id), player.member.name) for player in record.players.all())
        return format_html_join(", ", '<a href="{}">{}</a>', links)

    def value_players(self, record: Entrant) -> str:
        return ", ".join(player.member.name for player in record.players.all())

    def render_left_at(self, record: Entrant) -> str:
        if record.left_at is None:
            return _("takes part")
        return _("left: %(reason)s") % {"reason": record.left_reason} if record.left_reason else _("left")

    def render_acts(self, record: Entrant) -> SafeString:
        acts = [("entrant-edit", _("Change")), ("entrant-place", _("For the draw"))]
        acts.append(("entrant-return", _("Let back in")) if record.left_at else ("entrant-leave", _("Take out")))
        return format_html_join(
            " ",
            '<a href="{}">{}<span class="visually-hidden"> {}</span></a>',
            ((self.address(name, pk=record.season_id, entrant=record.key), words, record.name) for name, words in acts),
        )


class RoundTable(OfClub):
    number = tables.Column(verbose_name=gettext_lazy("Round"))
    on = Days(verbose_name=gettext_lazy("Date"))
    note = tables.Column(verbose_name=gettext_lazy("Note"))
    pairing_count = Figures(verbose_name=gettext_lazy("Pairings"))
    reported_count = Figures(verbose_name=gettext_lazy("Reported"))

    class Meta(Table.Meta):
        fields = ("number", "on", "note", "pairing_count", "reported_count")
        empty_text = gettext_lazy("No round yet.")

    def render_number(self, record: Round) -> SafeString:
        address = self.address("round", pk=record.season_id, number=record.number)
        return format_html('<a href="{}">{}</a>', address, record)

    def value_number(self, record: Round) -> str:
        return str(record)


class AdjustmentTable(OfClub):
    entrant = tables.Column(verbose_name=gettext_lazy("Entrant"))
    points_x2 = HalfPoints(verbose_name=gettext_lazy("Points"))
    reason = tables.Column(verbose_name=gettext_lazy("Reason"))
    after_round = tables.Column(verbose_name=gettext_lazy("Counts"))
    by = tables.Column(verbose_name=gettext_lazy("By"), accessor="by__name")
    on = Days(verbose_name=gettext_lazy("On"))

    class Meta(Table.Meta):
        fields = ("entrant", "points_x2", "reason", "after_round", "by", "on")
        empty_text = gettext_lazy("No points were given or taken.")

    def __init__(self, *args: Any, names: Mapping[str, str], member: bool, **options: Any) -> None:
        self.names = names
        super().__init__(*args, exclude=() if member else ("by",), **options)

    def render_entrant(self, record: Adjustment) -> str:
        return self.names[record.entrant.key]

    def render_after_round(self, value: int) -> str:
        return _("from round %(number)s on") % {"number": value} if value else _("from the start")
