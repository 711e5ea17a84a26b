"""How strong everybody is, and how good the forecasts made of it have been."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django_tables2 import RequestConfig

from league.clubs.scope import InClub
from league.seasons.queries.ratings import FEWEST_FORECASTS, Ratings, ratings_of
from league.seasons.tables.ratings import CalibrationTable, RatingTable, TeamTable
from league.web import TablePage

__all__ = ["RatingsPage"]


class RatingsPage(InClub, TablePage):
    """Visitors of a club with public pages read the names of those alone who allow it."""

    is_open = True
    table_class = RatingTable
    template_name = "seasons/ratings.html"
    csv_name = "ratings"
    title = _("Ratings")

    @cached_property
    def ratings(self) -> Ratings:
        return ratings_of(self.club, viewer=self.member, today=timezone.localdate())

    def get_table_data(self) -> Any:
        return self.ratings.lines

    def get_table_options(self) -> dict[str, Any]:
        as_file = self.request.GET.get("format") == "csv"
        return {**self.of_members(), "exclude": () if as_file else ("deviation",)}

    def of_members(self) -> dict[str, Any]:
        member = self.member
        return {"club": self.club.slug, "linked": member is not None, "mine": member.pk if member else None}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        told = self.ratings
        teams = TeamTable(told.teams, prefix="teams-", request=self.request, **self.of_members())
        RequestConfig(self.request, paginate={"per_page": 50, "silent": True}).configure(teams)
        return super().get_context_data(
            ratings=told,
            teams=teams if told.teams else None,
            bins=CalibrationTable(told.quality.bins) if told.quality and told.says_quality else None,
            fewest=FEWEST_FORECASTS,
            **context,
        )
