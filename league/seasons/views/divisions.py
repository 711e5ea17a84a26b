"""Divisions with their tables, and the season after this one."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Any

from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext
from django.views.generic import TemplateView

from league.seasons import permissions
from league.seasons.forms.divisions import DivisionForm, NextSeasonForm
from league.seasons.models import Division, Season
from league.seasons.queries.divisions import DivisionTable, division_tables, moves_after, moves_of
from league.seasons.services.divisions import add_division, change_division, start_next_season
from league.seasons.tables.divisions import DivisionStandings, MoveTable
from league.seasons.views.rows import OnSeason, RunsSeason

__all__ = ["DivisionEdit", "DivisionNew", "DivisionsPage", "NextSeason"]


class DivisionsPage(OnSeason, TemplateView):
    template_name = "seasons/divisions.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        tables = division_tables(self.season)
        options = {
            "club": self.club.slug,
            "names": self.names,
            "moves": {move.entrant.key: move for move in moves_after(self.season, tables)},
            "request": self.request,
        }
        shown = [
            (each.division, DivisionStandings(each.rows, **options), ends_of(each.division, tables)) for each in tables
        ]
        return super().get_context_data(
            title=_("Divisions"),
            divisions=shown,
            may_follow=bool(tables) and permissions.can_run_season(self.member, self.season),
            **context,
        )


def ends_of(division: Division, tables: Sequence[DivisionTable]) -> list[str]:
    """What becomes of the first and the last of a division at the end of the season."""
    levels = [each.division.level for each in tables]
    told = []
    if division.promotes and min(levels) < division.level:
        told.append(
            ngettext("The first goes up.", "The first %(count)s go up.", division.promotes)
            % {"count": division.promotes}
        )
    if division.relegates and max(levels) > division.level:
        told.append(
            ngettext("The last goes down.", "The last %(count)s go down.", division.relegates)
            % {"count": division.relegates}
        )
    return told or [_now("Nobody goes up or down from here.")]


class DivisionNew(RunsSeason):
    form_class = DivisionForm
    title = _("New division")
    button = _("Add the division")

    def get_initial(self) -> dict[str, Any]:
        last = self.season.divisions.order_by("-level").values_list("level", flat=True).first()
        return {"level": (last or 0) + 1}

    def serve(self, form: DivisionForm) -> Division:
        return add_division(self.season, **form.cleaned_data, by=self.member)

    def get_success_url(self) -> str:
        return self.address("divisions", pk=self.season.pk)


class DivisionEdit(DivisionNew):
    title = _("Change a division")
    button = _("Save")

    @cached_property
    def division(self) -> Division:
        return get_object_or_404(self.season.divisions.select_related("season__club"), key=self.kwargs["division"])

    def get_initial(self) -> dict[str, Any]:
        row = self.division
        return {"name": row.name, "level": row.level, "promotes": row.promotes, "relegates": row.relegates}

    def serve(self, form: DivisionForm) -> Division:
        return change_division(self.division, **form.cleaned_data, by=self.member)


class NextSeason(RunsSeason):
    """Who would go up and down, and the season that follows."""

    template_name = "seasons/next_season.html"
    form_class = NextSeasonForm
    title = _("The season after this one")
    button = _("Make the season")
    done_message = _("The season is made, with everybody in their division.")

    def get_initial(self) -> dict[str, Any]:
        return {"starts_on": timezone.localdate()}

    def serve(self, form: NextSeasonForm) -> Season:
        return start_next_season(self.season, **form.cleaned_data, by=self.member)

    def get_success_url(self) -> str:
        return self.address("season", pk=getattr(self, "result", self.season).pk)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        table = MoveTable(moves_of(self.season), club=self.club.slug, request=self.request)
        return super().get_context_data(table=table, **context)
