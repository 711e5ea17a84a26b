"""The lists of a round to be."""

from __future__ import annotations

from typing import Any

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.seasons.queries.drafts import DraftLine, PinLine
from league.seasons.tables.rows import OfClub
from league.web import Figures, Table

__all__ = ["DraftTable", "PinTable"]


class DraftTable(OfClub):
    """Every pairing of a draft with its reasons; byes come last."""

    board = Figures(verbose_name=gettext_lazy("Board"), empty_values=(), orderable=False)
    entrants = tables.Column(verbose_name=gettext_lazy("Who meets whom"), orderable=False)
    table = tables.Column(verbose_name=gettext_lazy("Table"), orderable=False)
    scenario = tables.Column(verbose_name=gettext_lazy("Scenario"), orderable=False)
    reasons = tables.Column(verbose_name=gettext_lazy("Why"), empty_values=(), orderable=False)

    class Meta(Table.Meta):
        fields = ("board", "entrants", "table", "scenario", "reasons")
        empty_text = gettext_lazy("Nobody is paired.")

    def __init__(self, *args: Any, titles: dict[str, str], **options: Any) -> None:
        self.titles = titles
        super().__init__(*args, **options)

    def render_board(self, bound_row: Any, record: DraftLine) -> str:
        return "" if record.is_bye else str(bound_row.row_counter + 1)

    def render_entrants(self, record: DraftLine) -> str:
        names = [entrant.name for entrant in record.entrants]
        words = _("%(name)s has the bye") % {"name": names[0]} if record.is_bye else " – ".join(names)
        if record.division:
            words = f"{words} ({self.titles[record.division]})"
        return _("%(words)s, pinned") % {"words": words} if record.pinned else words

    def render_scenario(self, record: DraftLine) -> str:
        return record.scenario.name if record.scenario else ""

    def render_reasons(self, record: DraftLine) -> SafeString:
        told = [*(reason.words for reason in record.reasons if reason.words), *record.seating]
        if not told:
            return format_html("{}", _("The format says so."))
        lines = format_html_join("", "<li>{}</li>", ((words,) for words in told))
        return format_html("<details><summary>{}</summary><ul>{}</ul></details>", _("Reasons"), lines)


class PinTable(OfClub):
    """What an organiser fixed."""

    entrants = tables.Column(verbose_name=gettext_lazy("Fixed"), orderable=False)
    acts = tables.Column(verbose_name="", empty_values=(), orderable=False)

    class Meta(Table.Meta):
        fields = ("entrants", "acts")

    def render_entrants(self, record: PinLine) -> str:
        names = [entrant.name for entrant in record.entrants]
        at = _(" at %(table)s") % {"table": record.pin.table} if record.pin.table else ""
        if record.pin.kind == "bye":
            return _("%(name)s has the bye") % {"name": names[0]}
        return " – ".join(names) + at

    def render_acts(self, record: PinLine) -> SafeString:
        pin = record.pin
        address = reverse(
            "pin-remove",
            kwargs={
                "club": self.club,
                "pk": pin.round.season_id,
                "number": pin.round.number,
                "pin": pin.pk,
            },
        )
        return format_html('<a href="{}">{}</a>', address, _("Take out"))
