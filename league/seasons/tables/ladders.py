"""The rungs of a ladder."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import django_tables2 as tables
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines.documents.season_ladder import Climb
from league.seasons.models import Entrant
from league.seasons.tables.rows import OfClub
from league.web import Figures, Table

__all__ = ["LadderTable"]


class LadderTable(OfClub):
    """From the top; `names` as the reader may know them."""

    number = Figures(verbose_name=gettext_lazy("Rung"), orderable=False)
    entrant = tables.Column(verbose_name=gettext_lazy("Entrant"), orderable=False)
    climb = tables.Column(verbose_name=gettext_lazy("How"), empty_values=(), orderable=False)
    may_challenge = tables.Column(verbose_name=gettext_lazy("May challenge"), orderable=False)

    class Meta(Table.Meta):
        fields = ("number", "entrant", "climb", "may_challenge")
        empty_text = gettext_lazy("Nobody is on the ladder yet.")

    def __init__(self, *args: Any, names: Mapping[str, str], **options: Any) -> None:
        self.names = names
        super().__init__(*args, **options)

    def render_entrant(self, value: Entrant) -> str:
        return self.names[value.key]

    def render_climb(self, value: Climb | None) -> str:
        if value is None:
            return ""
        told = {"before": value.before, "after": value.after, "name": self.names[value.loser]}
        return _("from %(before)s to %(after)s by beating %(name)s") % told

    def render_may_challenge(self, value: tuple[Entrant, ...]) -> str:
        return ", ".join(self.names[entrant.key] for entrant in value)
