"""The lists of the roster room."""

from __future__ import annotations

import django_tables2 as tables
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from league.clubs.tables import ClubTable, club_link
from league.rosters.queries import RosterRow
from league.templatetags.club import badge
from league.web import Figures
from league.web import Table as Ledger

__all__ = ["RosterTable"]


class RosterTable(ClubTable):
    name = tables.Column(verbose_name=gettext_lazy("Roster"), accessor="roster__name")
    owner = tables.Column(verbose_name=gettext_lazy("Owner"), accessor="roster__owner__name")
    ruleset = tables.Column(verbose_name=gettext_lazy("Ruleset"), accessor="roster__ruleset__name")
    faction = tables.Column(verbose_name=gettext_lazy("Faction"), accessor="roster__faction")
    units = Figures(verbose_name=gettext_lazy("Units"))
    figures = Figures(verbose_name=gettext_lazy("Figures"))
    points = Figures(verbose_name=gettext_lazy("Points"))
    state = tables.Column(verbose_name=gettext_lazy("State"), empty_values=(), accessor="fault_count")

    class Meta(Ledger.Meta):
        fields = ("name", "owner", "ruleset", "faction", "units", "figures", "points", "state")
        empty_text = gettext_lazy("No roster fits. Write one, or take a filter away.")

    def render_name(self, value: str, record: RosterRow) -> str:
        return club_link("roster", self.club, record.roster.pk, value)

    def value_name(self, value: str) -> str:
        return value

    def render_state(self, record: RosterRow) -> str:
        state = "retired" if record.roster.retired_at else "legal" if record.legal else "illegal"
        return badge(state, self.value_state(record))

    def value_state(self, record: RosterRow) -> str:
        if record.roster.retired_at:
            return _("retired")
        if record.legal:
            return _("legal")
        return ngettext("%(count)s fault", "%(count)s faults", record.fault_count) % {"count": record.fault_count}
