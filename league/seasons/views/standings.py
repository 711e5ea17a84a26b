"""The table, now or as it stood, and the reasons of every number in it."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.http import Http404
from django.utils.translation import gettext as _
from django.views.generic import TemplateView

from league.seasons.forms.small import LookBackForm
from league.seasons.queries import Standings, entrant_numbers, own_entrants, standings
from league.seasons.queries.documents import pairing_of_season
from league.seasons.queries.formats import format_in_words
from league.seasons.queries.reasons import cell_page
from league.seasons.queries.words import columns_in_words
from league.seasons.tables.standings import ComparisonTable, ReasonTable, StandingsTable
from league.seasons.views.rows import OnSeason
from league.web import TablePage

__all__ = ["CellPage", "StandingsPage"]


class LooksBack(OnSeason):
    """A page of the table, with `?round=` or `?date=` as it stood."""

    @cached_property
    def look_back(self) -> LookBackForm:
        numbers = self.season.rounds.filter(number__gte=1).order_by("number").values_list("number", flat=True)
        return LookBackForm(self.request.GET or None, numbers=numbers)

    @cached_property
    def reckoned(self) -> Standings:
        return standings(self.season, **self.look_back.moment())

    @cached_property
    def numbers(self) -> dict[str, int]:
        return entrant_numbers(self.season)

    @property
    def moment(self) -> str:
        """The moment as a query string, so that links keep it."""
        asked = self.request.GET.copy()
        kept = [name for name in ("round", "date") if asked.get(name)]
        for name in list(asked):
            if name not in kept:
                del asked[name]
        return f"?{asked.urlencode()}" if kept else ""


class StandingsPage(LooksBack, TablePage):
    table_class = StandingsTable
    template_name = "seasons/standings.html"

    @property
    def csv_name(self) -> str:  # type: ignore[override]
        return f"table-{self.season.pk}"

    def get_table_data(self) -> Any:
        return self.reckoned.rows

    def get_table_options(self) -> dict[str, Any]:
        return {
            "club": self.club.slug,
            "reckoned": self.reckoned,
            "names": self.names,
            "numbers": self.numbers,
            "own": own_entrants(self.season, self.member),
            "moment": self.moment,
        }

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        moment = self.look_back.moment()
        return super().get_context_data(
            title=_("Table of %(season)s") % {"season": self.season.name},
            filter=self.look_back,
            limits=format_in_words(pairing_of_season(self.season))[1:] if self.season.format == "open" else [],
            columns=columns_in_words(self.reckoned.document.rules),
            has_remarks=bool(self.reckoned.remarks),
            counts_filed=self.season.counts == "filed",
            **moment,
            **context,
        )


class CellPage(LooksBack, TemplateView):
    template_name = "seasons/cell.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        keys = {number: key for key, number in self.numbers.items()}
        try:
            page = cell_page(
                self.reckoned,
                entrant=keys[self.kwargs["row"]],
                column=self.kwargs["column"],
                names=self.names,
                with_games=self.member is not None,
            )
        except KeyError:
            raise Http404 from None
        kind, rows = (ComparisonTable, page.comparisons) if page.column == "rank" else (ReasonTable, page.lines)
        table = kind(rows, page=page, club=self.club.slug, request=self.request)
        return super().get_context_data(
            title=page.title, page=page, table=table, moment=self.moment, **self.look_back.moment(), **context
        )
