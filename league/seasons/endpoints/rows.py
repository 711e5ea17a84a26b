"""How the methods of this room reach their rows."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404

from league.clubs.models import Table
from league.clubs.scope import InClubApi
from league.seasons import permissions
from league.seasons.models import Entrant, Round, Season

__all__ = ["OnRoundApi", "OnSeasonApi", "found_table"]


class OnSeasonApi(InClubApi):
    """Under a season of the club, at `season` in the address."""

    kwargs: dict[str, Any]
    request: Any
    season_in = "season"

    @cached_property
    def season(self) -> Season:
        seasons = Season.objects.visible_to(self.request.user).filter(club=self.club)
        found: Season = get_object_or_404(seasons.select_related("club", "ruleset"), pk=self.kwargs[self.season_in])
        return found

    def require_runner(self) -> None:
        self.require(permissions.can_run_season(self.member, self.season))

    def entrant(self, key: str) -> Entrant:
        found: Entrant = get_object_or_404(self.season.entrants.select_related("season__club"), key=key)
        return found


class OnRoundApi(OnSeasonApi):
    @cached_property
    def round(self) -> Round:
        rounds = self.season.rounds.select_related("season__club", "season__ruleset", "published_by")
        found: Round = get_object_or_404(rounds, number=self.kwargs["number"])
        return found


def found_table(tables: QuerySet[Table], pk: int) -> Table:
    found: Table = get_object_or_404(tables, pk=pk)
    return found
