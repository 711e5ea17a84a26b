"""The bracket of a knock-out."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.seasons.queries.brackets import SeasonBracket, brackets_of
from league.seasons.tables.brackets import BracketTable, GroupTable
from league.seasons.views.rows import OnSeason

__all__ = ["BracketPage"]


class BracketPage(OnSeason, TemplateView):
    template_name = "seasons/bracket.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        titles = dict(self.season.divisions.values_list("key", "name"))
        brackets = [self.shown(titles.get(each.division, ""), each) for each in brackets_of(self.season)]
        return super().get_context_data(title=_("Knock-out"), brackets=brackets, **context)

    def shown(self, title: str, bracket: SeasonBracket) -> dict[str, Any]:
        return {
            "title": title,
            "refusal": bracket.refusal,
            "waits": not bracket.lines and not bracket.refusal,
            "groups": [
                GroupTable(rows, club=self.club.slug, names=self.names, request=self.request) for rows in bracket.groups
            ],
            "through": bracket.through,
            "table": BracketTable(bracket.lines, club=self.club.slug, names=self.names, request=self.request),
            "places": [
                (place, ", ".join(self.names[entrant.key] for entrant in entrants))
                for place, entrants in bracket.places
            ],
        }
