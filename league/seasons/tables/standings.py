"""The table of a season, and the reasons of every number in it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import django_tables2 as tables
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from league.engines.standings import Row
from league.seasons.queries.reasons import CellPage, ReasonLine
from league.seasons.queries.standings import EN_DASH, Remark, Standings, tie_break_text, was_asked
from league.seasons.queries.words import column_head, column_name
from league.seasons.tables.rows import OfClub
from league.web import Figures, HalfPoints, Table, with_fractions

__all__ = ["ComparisonTable", "ReasonTable", "StandingsTable"]


class CellColumn(Figures):
    """A number of the table that leads to its reasons."""

    def __init__(self, column: str, **options: Any) -> None:
        self.column_key = column
        super().__init__(**{"verbose_name": column_head(column), "empty_values": (), **options})

    def number(self, record: Row) -> object:
        return getattr(record, self.column_key)

    def text(self, record: Row) -> str:
        return str(self.number(record))

    def render(self, record: Row, table: StandingsTable) -> SafeString:
        return format_html('<a href="{}">{}</a>', table.cell_address(record, self.column_key), self.text(record))

    def value(self, record: Row) -> object:
        return self.number(record)


class PointsColumn(CellColumn):
    def text(self, record: Row) -> str:
        return HalfPoints().render(record.points_x2)

    def value(self, record: Row) -> object:
        return record.points_x2 / 2


class RatioColumn(CellColumn):
    def text(self, record: Row) -> str:
        value = record.points_per_game
        return EN_DASH if value is None else f"{float(value):.3f}"

    def value(self, record: Row) -> object:
        return None if record.points_per_game is None else float(record.points_per_game)


class TieBreakColumn(CellColumn):
    """The tie-break in place `place` of the season's rules."""

    def __init__(self, column: str, place: int, **options: Any) -> None:
        self.place = place
        super().__init__(column, accessor=f"values__{place}__value", **options)

    def text(self, record: Row) -> str:
        if self.column_key == "drawn_lot":
            return _("drawn")
        return with_fractions(tie_break_text(record.values[self.place]))

    def value(self, record: Row) -> object:
        cell = record.values[self.place]
        if not was_asked(cell):
            return None
        if cell.value is None:
            return cell.text
        return cell.value if cell.scale == 1 and isinstance(cell.value, int) else float(cell.value / cell.scale)


class StandingsTable(OfClub):
    """The rows of the engine; every number leads to its reasons. What matters most comes first, so a phone shows it."""

    rank = tables.Column(verbose_name=gettext_lazy("Place"), attrs={"th": {"class": "num"}, "td": {"class": "num"}})
    name = tables.Column(verbose_name=gettext_lazy("Entrant"))

    class Meta(Table.Meta):
        fields = ("rank", "name")
        empty_text = gettext_lazy("Nobody has entered yet.")

    def __init__(
        self,
        *args: Any,
        reckoned: Standings,
        names: Mapping[str, str],
        numbers: Mapping[str, int],
        own: frozenset[str] = frozenset(),
        moment: str = "",
        **options: Any,
    ) -> None:
        self.reckoned = reckoned
        self.names = names
        self.numbers = numbers
        self.moment = moment
        rules = reckoned.document.rules
        extra: list[tuple[str, tables.Column]] = [("points", PointsColumn("points", accessor="points_x2"))]
        if rules.rank_by == "points_per_game":
            extra.insert(0, ("points_per_game", RatioColumn("points_per_game")))
        extra += [(key, CellColumn(key)) for key in ("played", "won", "drawn", "lost")]
        if any(row.unplayed for row in reckoned.rows):
            extra.append(("unplayed", CellColumn("unplayed")))
        extra += [
            (f"tie_break_{place}", TieBreakColumn(each.column, place)) for place, each in enumerate(rules.tie_breaks)
        ]
        if reckoned.remarks:
            extra.append(("remark", tables.Column(verbose_name=_("Note"), empty_values=(), orderable=False)))
        mine = {"class": lambda record: "mine" if record.entrant_id in own else None}
        super().__init__(*args, extra_columns=extra, row_attrs=mine, **options)

    def render_remark(self, record: Row) -> str:
        return ", ".join(remark_words(self.reckoned.remarks.get(record.entrant_id)))

    def cell_address(self, record: Row, column: str) -> str:
        address = self.address(
            "standings-cell", pk=self.reckoned.season.pk, row=self.numbers[record.entrant_id], column=column
        )
        return address + self.moment

    def render_rank(self, record: Row) -> SafeString:
        text = f"{record.rank}=" if record.shared else str(record.rank)
        return format_html('<a href="{}">{}</a>', self.cell_address(record, "rank"), text)

    def value_rank(self, record: Row) -> int:
        return record.rank

    def render_name(self, record: Row) -> str:
        return self.names.get(record.entrant_id, record.name)

    def value_name(self, record: Row) -> str:
        return self.names.get(record.entrant_id, record.name)


class ReasonTable(OfClub):
    """What adds up to one number."""

    round = tables.Column(verbose_name=gettext_lazy("Round"), empty_values=(), orderable=False)
    words = tables.Column(verbose_name=gettext_lazy("What"), orderable=False)
    against = tables.Column(verbose_name=gettext_lazy("Against"), orderable=False)
    amount = Figures(verbose_name=gettext_lazy("Counts"), orderable=False)

    class Meta(Table.Meta):
        fields = ("round", "words", "against", "amount")
        empty_text = gettext_lazy("Nothing has been added or taken yet.")

    def __init__(self, *args: Any, page: CellPage, **options: Any) -> None:
        together = _("The first figures added up, over the second") if page.is_ratio else _("Together")
        summed = [
            ("words", tables.Column(verbose_name=_("What"), orderable=False, footer=together)),
            ("amount", Figures(verbose_name=_("Counts"), orderable=False, footer=with_fractions(page.total))),
        ]
        super().__init__(*args, extra_columns=summed, **options)

    def render_amount(self, value: str) -> str:
        return with_fractions(value)

    def render_round(self, record: ReasonLine) -> str:
        return str(record.round) if record.round else EN_DASH

    def render_words(self, record: ReasonLine) -> SafeString:
        words = f"{record.words}: {record.note}" if record.note else record.words
        if record.game_pk is None:
            return format_html("{}", words)
        return format_html('<a href="{}">{}</a>', self.address("game", pk=record.game_pk), words)


class ComparisonTable(OfClub):
    """Two entrants, criterion by criterion."""

    column = tables.Column(verbose_name=gettext_lazy("Compared by"), orderable=False)
    mine = Figures(orderable=False)
    theirs = Figures(orderable=False)
    parts = tables.Column(verbose_name=gettext_lazy("So"), orderable=False)

    class Meta(Table.Meta):
        fields = ("column", "mine", "theirs", "parts")
        empty_text = gettext_lazy("There is nobody to compare with.")

    def __init__(self, *args: Any, page: CellPage, **options: Any) -> None:
        named = [
            ("mine", Figures(verbose_name=page.name, orderable=False)),
            ("theirs", Figures(verbose_name=page.other or EN_DASH, orderable=False)),
        ]
        super().__init__(*args, extra_columns=named, **options)

    def render_column(self, value: str) -> str:
        return column_name(value)

    def render_mine(self, value: str) -> str:
        return with_fractions(value)

    def render_theirs(self, value: str) -> str:
        return with_fractions(value)

    def render_parts(self, value: bool) -> str:  # noqa: FBT001 - the cell's own value
        return _("this parts them") if value else _("level")


def remark_words(remark: Remark | None) -> list[str]:
    """What an entrant's line has to be read with."""
    if remark is None:
        return []
    words = []
    if count := remark.awaiting_counted:
        words.append(ngettext("%(count)s unconfirmed", "%(count)s unconfirmed", count) % {"count": count})
    if count := remark.awaiting_left_out:
        words.append(ngettext("%(count)s waits to count", "%(count)s wait to count", count) % {"count": count})
    if count := remark.disputed:
        words.append(ngettext("%(count)s disputed, left out", "%(count)s disputed, left out", count) % {"count": count})
    return words
