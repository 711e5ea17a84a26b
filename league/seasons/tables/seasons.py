"""The lists of the seasons room."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import django_tables2 as tables
from django.urls import reverse
from django.utils.formats import date_format
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from league.battles.models import ReportState
from league.engines.standings import Row
from league.seasons.models import Adjustment, Entrant, Round, Season, Unplayed
from league.seasons.queries.pages import PairingLine, SeatLine
from league.seasons.queries.reasons import CellPage, ReasonLine
from league.seasons.queries.standings import EN_DASH, Remark, Standings, tie_break_text, was_asked
from league.seasons.queries.words import column_head, column_name, kind_words
from league.web import Figures, HalfPoints, Table

__all__ = [
    "AdjustmentTable",
    "ComparisonTable",
    "EntrantTable",
    "PairingTable",
    "ReasonTable",
    "RoundTable",
    "SeasonTable",
    "StandingsTable",
]


class OfClub(Table):
    """A list inside a club: knows its address, and whether the reader runs the season."""

    def __init__(self, *args: Any, club: str, runs: bool = False, **options: Any) -> None:
        self.club = club
        self.runs = runs
        super().__init__(*args, **options)

    def address(self, name: str, **kwargs: Any) -> str:
        return reverse(name, kwargs={"club": self.club, **kwargs})


class SeasonTable(OfClub):
    name = tables.Column(verbose_name=gettext_lazy("Season"))
    starts_on = tables.DateColumn(verbose_name=gettext_lazy("From"), format="D j M Y")
    ends_on = tables.DateColumn(verbose_name=gettext_lazy("Until"), format="D j M Y")
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
    on = tables.DateColumn(verbose_name=gettext_lazy("Date"), format="D j M Y")
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
    on = tables.DateColumn(verbose_name=gettext_lazy("On"), format="D j M Y")

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
        return tie_break_text(record.values[self.place])

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
        text = self.value_result(record)
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
        until = record.pairing.postponed_until
        if until is None or value != "planned":
            return badge
        return format_html("{} {}", badge, _("postponed until %(day)s") % {"day": date_format(until, "D j M Y")})

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
            ("amount", Figures(verbose_name=_("Counts"), orderable=False, footer=page.total)),
        ]
        super().__init__(*args, extra_columns=summed, **options)

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

    def render_parts(self, value: bool) -> str:  # noqa: FBT001 - the cell's own value
        return _("this parts them") if value else _("level")


def state_words(state: str) -> str:
    """A pairing's state for a reader."""
    own = {"planned": _("to be played"), "cancelled": _("game cancelled"), "unplayed": _("not played")}
    return own.get(state) or str(ReportState(state).label)


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
