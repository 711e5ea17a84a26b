"""The table of a season with its reasons, and points by hand, over the API."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.http import Http404
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response
from rest_framework.views import APIView
from rest_framework.viewsets import GenericViewSet

from league.clubs.endpoints.rows import asked_of, body_of
from league.seasons.endpoints.rows import OnSeasonApi
from league.seasons.models import Adjustment
from league.seasons.queries import explain_cell, standings
from league.seasons.queries.pages import (
    adjustments_of,
)
from league.seasons.serializers import seasons as serializers
from league.seasons.services.adjustments import adjust

__all__ = ["Adjustments", "Standings", "StandingsCell"]


ROUND = OpenApiParameter(
    "round", {"type": "integer", "minimum": 0, "maximum": 1000}, description="As it stood after this round."
)


DATE = OpenApiParameter("date", OpenApiTypes.DATE, description="As it stood at the end of this day.")


class Standings(OnSeasonApi, APIView):
    @extend_schema(summary="Read the table", parameters=[ROUND, DATE], responses=serializers.StandingsSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """As of now, or as it stood after a round or at the end of a day."""
        asked = asked_of(serializers.StandingsQuerySerializer, request)
        reckoned = standings(self.season, through_round=asked["round"], through_date=asked["date"])
        return Response(serializers.StandingsSerializer(reckoned).data)


class StandingsCell(OnSeasonApi, APIView):
    @extend_schema(
        operation_id="clubs_seasons_standings_reasons",
        summary="Read the reasons of one number",
        parameters=[ROUND, DATE],
        responses=serializers.CellSerializer,
    )
    def get(self, request: Any, *, entrant: str, column: str, **_kwargs: Any) -> Response:
        """Columns: points, points_per_game, played, won, drawn, lost, unplayed, score_for, score_against, and every
        tie-break of the season by its name.
        """
        asked = asked_of(serializers.StandingsQuerySerializer, request)
        reckoned = standings(self.season, through_round=asked["round"], through_date=asked["date"])
        try:
            cell = explain_cell(reckoned, entrant=entrant, column=column)
        except KeyError:
            raise Http404 from None
        return Response(serializers.CellSerializer(cell).data)


@extend_schema_view(list=extend_schema(summary="List points given and taken"))
class Adjustments(OnSeasonApi, mixins.ListModelMixin, GenericViewSet[Adjustment]):
    """The latest first, each with its reason."""

    queryset = Adjustment.objects.none()
    serializer_class = serializers.AdjustmentSerializer

    def get_queryset(self) -> QuerySet[Adjustment]:
        return adjustments_of(self.season)

    @extend_schema(
        summary="Give or take points",
        request=serializers.NewAdjustmentSerializer,
        responses={201: serializers.AdjustmentSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """It cannot be changed afterwards; a second adjustment can undo it. Organisers only."""
        self.require_runner()
        facts = body_of(serializers.NewAdjustmentSerializer, request)
        made = adjust(self.season, entrant=self.entrant(facts.pop("entrant")), **facts, by=self.member)
        return Response(serializers.AdjustmentSerializer(made).data, status=status.HTTP_201_CREATED)
