"""A list of fixtures as it was read."""

from __future__ import annotations

import django_tables2 as tables
from django.utils.html import format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.seasons.queries.fixtures import FixtureLine
from league.seasons.tables.rows import OfClub
from league.web import Figures, Table

__all__ = ["FixtureTable"]


class FixtureTable(OfClub):
    number = Figures(verbose_name=gettext_lazy("Line"), orderable=False)
    text = tables.Column(verbose_name=gettext_lazy("As typed"), orderable=False)
    faults = tables.Column(verbose_name=gettext_lazy("As read"), empty_values=(), orderable=False)

    class Meta(Table.Meta):
        fields = ("number", "text", "faults")

    def render_faults(self, record: FixtureLine) -> SafeString | str:
        if record.faults:
            return format_html_join(" ", "<strong>{}</strong>", ((fault,) for fault in record.faults))
        names = [entrant.name for entrant in record.entrants]
        told = {"round": record.round, "names": f" {_('v')} ".join(names)}
        if len(names) == 1:
            return _("round %(round)s: %(names)s has the bye") % told
        return _("round %(round)s: %(names)s") % told
