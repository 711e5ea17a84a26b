"""What may still come of a season."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.generic import TemplateView

from league.seasons.forms.forecast import ForecastForm
from league.seasons.queries import entrant_numbers, own_entrants
from league.seasons.queries.forecast import Forecast, divisions_in, forecast_of, needs_from
from league.seasons.queries.forecast_words import NeedWords, needs_in_words, rows_of
from league.seasons.tables.forecast import OddsTable, PlacesTable
from league.seasons.views.rows import OnSeason

__all__ = ["ForecastPage"]


class ForecastPage(OnSeason, TemplateView):
    """The forecast, and what the entrant asked about, or else the reader's own, needs from the next game."""

    template_name = "seasons/forecast.html"

    @cached_property
    def forecast(self) -> Forecast:
        division = self.request.GET.get("division") or None
        return forecast_of(self.season, today=timezone.localdate(), division=division)

    @cached_property
    def own(self) -> frozenset[str]:
        return own_entrants(self.season, self.member)

    @cached_property
    def numbers(self) -> dict[str, int]:
        """The numbers of those in the forecast, by key, in its order."""
        told = self.forecast.told
        numbers = entrant_numbers(self.season)
        return {key: numbers[key] for key in told.ids} if told else {}

    @cached_property
    def form(self) -> ForecastForm:
        told = self.forecast.told
        mine = next((number for key, number in self.numbers.items() if key in self.own), None)
        return ForecastForm(
            self.request.GET or None,
            divisions=divisions_in(self.forecast.document),
            entrants=[(number, self.names[key]) for key, number in self.numbers.items()],
            initial={"division": told.division if told else "", "entrant": mine},
        )

    @cached_property
    def asked(self) -> str | None:
        chosen = self.form.asked("entrant")
        return next((key for key, number in self.numbers.items() if number == chosen), None)

    def needs(self) -> list[NeedWords]:
        told = self.forecast.told
        if told is None or self.asked is None:
            return []
        return needs_in_words(needs_from(self.forecast, self.asked), told, self.names)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        told = self.forecast.told
        if told is not None:
            rows = rows_of(told, self.names)
            options = {"told": told, "own": self.own, "request": self.request}
            context |= {"odds": OddsTable(rows, **options), "places": PlacesTable(rows, **options)}
        return super().get_context_data(
            title=_("Forecast of %(season)s") % {"season": self.season.name},
            told=told,
            largest_error=200 * told.largest_error if told else 0,
            reasons=self.forecast.reasons,
            form_of_forecast=self.form,
            asked=self.names[self.asked] if self.asked else "",
            needs=self.needs(),
            **context,
        )
