"""The forecast of a season over the API."""

from __future__ import annotations

from typing import Any

from django.http import Http404
from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.endpoints.rows import asked_of
from league.seasons.endpoints.rows import OnSeasonApi
from league.seasons.queries.forecast import forecast_of, needs_from
from league.seasons.serializers.forecast import ForecastQuerySerializer, ForecastSerializer

__all__ = ["Forecast"]

DIVISION = OpenApiParameter("division", str, description="The division by its key; the first one if left out.")
ENTRANT = OpenApiParameter("entrant", str, description="Whose needs from the next game are worked out, by its key.")


class Forecast(OnSeasonApi, APIView):
    @extend_schema(summary="Read the forecast", parameters=[DIVISION, ENTRANT], responses=ForecastSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """The odds of every place by the ratings, who is through or out for certain on points alone, and what one
        entrant needs. The seed of the season throws the dice, so that everybody gets the same."""
        asked = asked_of(ForecastQuerySerializer, request)
        found = forecast_of(self.season, today=timezone.localdate(), division=asked["division"])
        try:
            needs = needs_from(found, asked["entrant"]) if asked["entrant"] else ()
        except KeyError:
            raise Http404 from None
        return Response(ForecastSerializer(found, context={"needs": needs}).data)
