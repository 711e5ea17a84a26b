"""The matches of a knock-out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import django_tables2 as tables
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.seasons.models import Entrant
from league.seasons.queries.brackets import BracketLine
from league.seasons.tables.rows import OfClub
from league.web import Figures, Table

__all__ = ["BracketTable"]


class BracketTable(OfClub):
    """Round by round; `names` as the reader may know them."""

    round = Figures(verbose_name=gettext_lazy("Round"), orderable=False)
    sides = tables.Column(verbose_name=gettext_lazy("Match"), orderable=False)
    winner = tables.Column(verbose_name=gettext_lazy("Goes on"), orderable=False)

    class Meta(Table.Meta):
        fields = ("round", "sides", "winner")

    def __init__(self, *args: Any, names: Mapping[str, str], **options: Any) -> None:
        self.names = names
        super().__init__(*args, **options)

    def render_sides(self, value: tuple[Entrant | None, Entrant | None], record: BracketLine) -> str:
        coming = [self.names[side.key] for side in value if side is not None]
        if record.is_walkover:
            return _("%(name)s has a bye") % {"name": coming[0]} if coming else _("nobody")
        told = f" {_('v')} ".join([*coming, *[_("somebody to come")] * (len(value) - len(coming))])
        return _("For the third place: %(match)s") % {"match": told} if record.is_third_place else told

    def render_winner(self, value: Entrant) -> str:
        return self.names[value.key]
