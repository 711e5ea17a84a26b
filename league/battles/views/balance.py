"""What the reports say about scenarios, factions and tables."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView
from django_tables2 import RequestConfig

from league.battles.queries.balance import FEWEST_GAMES, balance_of
from league.battles.tables import BalanceTable, FactionBalanceTable, TableBalanceTable
from league.clubs.scope import InClub
from league.web import Table

__all__ = ["BalancePage"]


class BalancePage(InClub, TemplateView):
    template_name = "battles/balance.html"
    extra_context = {"title": _("What the reports say")}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        told = balance_of(self.club)
        return super().get_context_data(
            games=told.games,
            fewest=FEWEST_GAMES,
            scenarios=self.table(BalanceTable, told.scenarios, "scenarios-"),
            factions=self.table(FactionBalanceTable, told.factions, "factions-"),
            tables=self.table(TableBalanceTable, told.tables, "tables-"),
            **context,
        )

    def table(self, kind: type[Table], rows: Any, prefix: str) -> Table:
        table = kind(rows, prefix=prefix, request=self.request)
        RequestConfig(self.request, paginate={"per_page": 50, "silent": True}).configure(table)
        return table
