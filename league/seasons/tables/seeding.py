"""Who is seeded where, and what the ratings say."""

from __future__ import annotations

import django_tables2 as tables
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.seasons.queries.seeding import SeedLine
from league.seasons.tables.rows import OfClub
from league.web import Figures, Table

__all__ = ["SeedingTable"]


class SeedingTable(OfClub):
    entrant = tables.Column(verbose_name=gettext_lazy("Entrant"), accessor="entrant__name", orderable=False)
    rating = Figures(verbose_name=gettext_lazy("Rating"), orderable=False)
    seed = Figures(verbose_name=gettext_lazy("Place in the seeding"), accessor="entrant__seed_number", orderable=False)
    acts = tables.Column(verbose_name="", empty_values=(), orderable=False)

    class Meta(Table.Meta):
        fields = ("entrant", "rating", "seed", "acts")
        empty_text = gettext_lazy("Nobody has entered yet.")

    def render_acts(self, record: SeedLine) -> SafeString:
        row = record.entrant
        address = self.address("entrant-place", pk=row.season_id, entrant=row.key)
        words = format_html('{}<span class="visually-hidden"> {}</span>', _("By hand"), row.name)
        return format_html('<a href="{}">{}</a>', address, words)
