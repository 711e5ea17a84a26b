"""The list of kinds."""

from __future__ import annotations

import django_tables2 as tables
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.tables import ClubTable, club_link
from league.stores.models import ItemKind
from league.stores.queries.cautions import CAUTIONS
from league.stores.queries.kinds_page import size_words
from league.web import Figures
from league.web import Table as Ledger

__all__ = ["KindTable"]


class KindTable(ClubTable):
    name = tables.Column(verbose_name=gettext_lazy("Kind"))
    category = tables.Column(verbose_name=gettext_lazy("For"))
    sizes = tables.Column(verbose_name=gettext_lazy("Size"), empty_values=(), orderable=False)
    holdings_count = Figures(verbose_name=gettext_lazy("Holdings"))
    can_be_made = tables.Column(verbose_name=gettext_lazy("Can be made"))
    cautions = tables.Column(verbose_name=gettext_lazy("Take care"), empty_values=(), orderable=False)

    class Meta(Ledger.Meta):
        fields = ("name", "category", "sizes", "holdings_count", "can_be_made", "cautions")
        empty_text = gettext_lazy("No kinds yet. Describe the first: dice, markers, a template, a hill.")

    def render_name(self, value: str, record: ItemKind) -> str:
        return club_link("kind", self.club, record.pk, value)

    def value_name(self, value: str) -> str:
        return value

    def render_category(self, record: ItemKind) -> str:
        return str(record.get_category_display())

    def render_sizes(self, record: ItemKind) -> str:
        return size_words(record)

    def render_can_be_made(self, value: bool) -> str:  # noqa: FBT001 - the cell's own value
        return _("yes") if value else ""

    def render_cautions(self, record: ItemKind) -> str:
        usual = [str(CAUTIONS[key].title) for key in record.cautions if key in CAUTIONS]
        return "; ".join([*usual, *([_("the club's own")] if record.caution else [])])
