"""Who meets whom in a round, with what came of it."""

from __future__ import annotations

from typing import Any

import django_tables2 as tables
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.battles.models import ReportState
from league.seasons.models import Unplayed
from league.seasons.queries.pages import PairingLine, SeatLine
from league.seasons.queries.words import kind_words
from league.seasons.tables.rows import OfClub
from league.web import Table, day_words

__all__ = ["BoardTable", "PairingTable"]


class PairingTable(OfClub):
    """The pairings of a round with their results; acts for those who may do them."""

    seats = tables.Column(verbose_name=gettext_lazy("Who"), orderable=False)
    result = tables.Column(verbose_name=gettext_lazy("Result"), empty_values=(), orderable=False)
    table = tables.Column(verbose_name=gettext_lazy("Table"), accessor="pairing__game__table__number", orderable=False)
    state = tables.Column(verbose_name=gettext_lazy("State"), orderable=False)
    acts = tables.Column(verbose_name="", empty_values=(), orderable=False, exclude_from_export=True)

    class Meta(Table.Meta):
        fields = ("seats", "result", "table", "state", "acts")
        empty_text = gettext_lazy("Nobody is paired yet.")

    def __init__(self, *args: Any, member: bool, **options: Any) -> None:
        self.member = member
        super().__init__(*args, exclude=() if member else ("acts",), **options)

    def render_seats(self, value: tuple[SeatLine, ...]) -> SafeString:
        return format_html_join(format_html(" {} ", _("v")), "{}", ((self.seat(each),) for each in value))

    def value_seats(self, value: tuple[SeatLine, ...]) -> str:
        return f" {_('v')} ".join(each.name for each in value)

    def seat(self, line: SeatLine) -> SafeString:
        shape = "<strong>{}</strong>" if line.outcome == "win" else "{}"
        name = format_html(shape, line.name)
        return format_html("{} ({})", name, Unplayed(line.unplayed).label) if line.unplayed else name

    def render_result(self, record: PairingLine) -> SafeString | str:
        text = self.value_result(record).replace(" : ", "\N{NO-BREAK SPACE}:\N{NO-BREAK SPACE}")
        if record.report_id is None or not self.member:
            return text
        return format_html('<a href="{}">{}</a>', self.address("report", pk=record.report_id), text)

    def value_result(self, record: PairingLine) -> str:
        if record.report_id is None:
            return ""
        playing = [each for each in record.seats if not each.unplayed]
        return " : ".join(kind_words(each.outcome) if each.score is None else str(each.score) for each in playing)

    def render_state(self, value: str, record: PairingLine) -> SafeString:
        badge = format_html('<span class="badge" data-state="{}">{}</span>', value, state_words(value))
        until = postponed_words(record)
        return format_html("{} {}", badge, until) if until else badge

    def value_state(self, value: str) -> str:
        return state_words(value)

    def render_acts(self, record: PairingLine) -> SafeString:
        place = {
            "pk": record.pairing.round.season_id,
            "number": record.pairing.round.number,
            "pairing": record.pairing.key,
        }
        acts = []
        if record.game is not None and record.state == "planned":
            acts.append((self.address("game", pk=record.game.pk), _("Game")))
            acts.append((self.address("report-new", pk=record.game.pk), _("Log the result")))
        if self.runs and record.can_change:
            acts.append((self.address("pairing-mark", **place), _("Mark who did not play")))
            if record.state == "planned":
                acts.append((self.address("pairing-postpone", **place), _("Postpone")))
            acts.append((self.address("pairing-remove", **place), _("Take back")))
        who = record.seats[0].name if record.seats else ""
        return format_html_join(
            " ",
            '<a href="{}">{}<span class="visually-hidden"> {}</span></a>',
            ((address, words, who) for address, words in acts),
        )


class BoardTable(PairingTable):
    """As large as a screen in the hall asks for: where, who, what came of it."""

    scenario_name = tables.Column(verbose_name=gettext_lazy("Scenario"), orderable=False)

    class Meta(Table.Meta):
        fields = ("table", "seats", "scenario_name", "result")
        sequence = ("table", "seats", "scenario_name", "result")
        empty_text = gettext_lazy("Nobody is paired yet.")

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, member=False, **options)
        self.columns.hide("state")

    def render_result(self, record: PairingLine) -> SafeString | str:
        told = super().render_result(record)
        if told or record.state == "unplayed":
            return told
        return postponed_words(record) or state_words(record.state)


def postponed_words(record: PairingLine) -> str:
    until = record.pairing.postponed_until
    if until is None or record.state != "planned":
        return ""
    return _("postponed until %(day)s") % {"day": day_words(until)}


def state_words(state: str) -> str:
    """A pairing's state for a reader."""
    own = {"planned": _("to be played"), "cancelled": _("game cancelled"), "unplayed": _("not played")}
    return own.get(state) or str(ReportState(state).label)
