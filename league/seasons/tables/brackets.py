"""The matches of a knock-out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import django_tables2 as tables
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines.standings import Row
from league.seasons.models import Entrant
from league.seasons.queries.brackets import BracketLine
from league.seasons.tables.rows import OfClub
from league.web import Figures, HalfPoints, Table

__all__ = ["BracketTable", "GroupTable"]


class BracketTable(OfClub):
    """Round by round; `names` as the reader may know them."""

    round = Figures(verbose_name=gettext_lazy("Round"), orderable=False)
    stage = tables.Column(verbose_name=gettext_lazy("What for"), accessor="round", orderable=False)
    sides = tables.Column(verbose_name=gettext_lazy("Match"), orderable=False)
    winner = tables.Column(verbose_name=gettext_lazy("Goes on"), orderable=False)

    class Meta(Table.Meta):
        fields = ("round", "sides", "stage", "winner")

    def __init__(self, rows: Sequence[BracketLine], *, names: Mapping[str, str], **options: Any) -> None:
        self.names = names
        self.last_round = max((line.round for line in rows), default=0)
        super().__init__(rows, **options)

    def render_sides(self, value: tuple[Entrant | None, Entrant | None], record: BracketLine) -> str:
        coming = [self.names[side.key] for side in value if side is not None]
        if record.is_walkover:
            return _("%(name)s has a bye") % {"name": coming[0]} if coming else _("nobody")
        return f" {_('v')} ".join([*coming, *[_("somebody to come")] * (len(value) - len(coming))])

    def render_stage(self, value: int, record: BracketLine) -> str:
        if record.is_third_place:
            return _("third place")
        return stage_words(self.last_round - value)

    def render_winner(self, value: Entrant) -> str:
        return self.names[value.key]


class GroupTable(OfClub):
    """The table of one group; the first `through` go on."""

    rank = Figures(verbose_name=gettext_lazy("Place"), orderable=False)
    name = tables.Column(verbose_name=gettext_lazy("Entrant"), orderable=False)
    points_x2 = HalfPoints(verbose_name=gettext_lazy("Points"), orderable=False)
    played = Figures(verbose_name=gettext_lazy("Played"), orderable=False)
    won = Figures(verbose_name=gettext_lazy("Won"), orderable=False)
    drawn = Figures(verbose_name=gettext_lazy("Drawn"), orderable=False)
    lost = Figures(verbose_name=gettext_lazy("Lost"), orderable=False)

    class Meta(Table.Meta):
        fields = ("rank", "name", "points_x2", "played", "won", "drawn", "lost")

    def __init__(self, *args: Any, names: Mapping[str, str], **options: Any) -> None:
        self.names = names
        super().__init__(*args, **options)

    def render_name(self, record: Row) -> str:
        return self.names[record.entrant_id]


def stage_words(rounds_before_the_last: int) -> str:
    """What a round of a knock-out is called, counted back from the final."""
    named = {0: _("final"), 1: _("semi-final"), 2: _("quarter-final")}
    return named.get(rounds_before_the_last) or _("last %(count)s") % {"count": 2 ** (rounds_before_the_last + 1)}
