"""The tables of divisions, and who goes up and down."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import django_tables2 as tables
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines.standings import Row
from league.seasons.queries.divisions import Move
from league.seasons.tables.rows import OfClub
from league.web import Figures, HalfPoints, Table

__all__ = ["DivisionStandings", "MoveTable"]


class DivisionStandings(OfClub):
    """The table of one division; `names` as the reader may know them."""

    rank = Figures(verbose_name=gettext_lazy("Place"), orderable=False)
    name = tables.Column(verbose_name=gettext_lazy("Entrant"), orderable=False)
    points_x2 = HalfPoints(verbose_name=gettext_lazy("Points"), orderable=False)
    played = Figures(verbose_name=gettext_lazy("Played"), orderable=False)
    won = Figures(verbose_name=gettext_lazy("Won"), orderable=False)
    drawn = Figures(verbose_name=gettext_lazy("Drawn"), orderable=False)
    lost = Figures(verbose_name=gettext_lazy("Lost"), orderable=False)
    move = tables.Column(verbose_name=gettext_lazy("At the end"), empty_values=(), orderable=False)

    class Meta(Table.Meta):
        fields = ("rank", "name", "points_x2", "played", "won", "drawn", "lost", "move")
        empty_text = gettext_lazy("Nobody is in this division yet.")

    def __init__(self, *args: Any, names: Mapping[str, str], moves: Mapping[str, Move], **options: Any) -> None:
        self.names = names
        self.moves = moves
        super().__init__(*args, **options)

    def render_move(self, record: Row) -> str:
        move = self.moves.get(record.entrant_id)
        if move is None:
            return _("left")
        return move_words(move) if move.goes_up or move.goes_down else ""

    def render_name(self, record: Row) -> str:
        return self.names[record.entrant_id]


class MoveTable(OfClub):
    """Everybody who plays on, with where."""

    entrant = tables.Column(verbose_name=gettext_lazy("Entrant"), orderable=False)
    was = tables.Column(verbose_name=gettext_lazy("Division"), orderable=False)
    place = Figures(verbose_name=gettext_lazy("Place"), orderable=False)
    level = tables.Column(verbose_name=gettext_lazy("Next season"), orderable=False)

    class Meta(Table.Meta):
        fields = ("entrant", "was", "place", "level")

    def render_level(self, record: Move) -> str:
        return move_words(record)


def move_words(move: Move) -> str:
    if move.goes_up:
        return _("▲ goes up")
    return _("▼ goes down") if move.goes_down else _("stays")
