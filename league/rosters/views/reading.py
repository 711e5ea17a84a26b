"""The club's rosters, one of them whole, and its units as files."""

from __future__ import annotations

import json
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.text import slugify
from django.utils.translation import gettext_lazy
from django.views.generic import TemplateView, View

from league.clubs.scope import InClub
from league.rosters.filters import RosterFilter
from league.rosters.queries import RosterRow, csv_of_units, document_of, roster_rows, roster_sheet, rosters_of
from league.rosters.tables import RosterTable
from league.rosters.views.rows import OnRoster
from league.web import TablePage

__all__ = ["RosterCsv", "RosterJson", "RosterPage", "RostersPage"]


class RostersPage(InClub, TablePage):
    """Visitors of a public club see the rosters whose owners show them."""

    is_open = True
    table_class = RosterTable
    template_name = "rosters/rosters.html"
    title = gettext_lazy("Rosters")
    csv_name = "rosters"

    def get_table_data(self) -> list[RosterRow]:
        rosters = rosters_of(self.club, self.request.user).order_by("retired_at", "name", "pk")
        self.filterset = RosterFilter(self.request.GET, rosters)
        return roster_rows(self.filterset.qs)

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {**super().get_context_data(**context), "filter": self.filterset}


class RosterPage(OnRoster, TemplateView):
    is_open = True
    template_name = "rosters/roster.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(title=self.roster.name, sheet=roster_sheet(self.roster), **context)


class RosterFile(OnRoster, View):
    """A file named after the roster."""

    content_type: str
    ending: str

    def text(self) -> str:
        raise NotImplementedError

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        answer = HttpResponse(self.text(), content_type=f"{self.content_type}; charset=utf-8")
        name = slugify(self.roster.name) or "roster"
        answer["Content-Disposition"] = f'attachment; filename="{name}.{self.ending}"'
        return answer


class RosterCsv(RosterFile):
    content_type = "text/csv"
    ending = "csv"

    def text(self) -> str:
        return csv_of_units(self.roster)


class RosterJson(RosterFile):
    content_type = "application/json"
    ending = "json"

    def text(self) -> str:
        return json.dumps(document_of(self.roster), ensure_ascii=False, indent=2) + "\n"
