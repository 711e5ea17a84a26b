"""Divisions, and the season after this one, over the API."""

from __future__ import annotations

from typing import Any

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.endpoints.rows import body_of
from league.seasons.endpoints.rows import OnSeasonApi
from league.seasons.models import Division
from league.seasons.queries.divisions import division_tables
from league.seasons.serializers import formats as serializers
from league.seasons.serializers.seasons import SeasonSerializer
from league.seasons.services.divisions import add_division, change_division, start_next_season

__all__ = ["Divisions", "NextSeason", "OneDivision"]


class Divisions(OnSeasonApi, APIView):
    @extend_schema(summary="Read the tables of the divisions", responses=serializers.DivisionSerializer(many=True))
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """From the highest. Empty in a season that has none."""
        return Response(serializers.DivisionSerializer(division_tables(self.season), many=True).data)

    @extend_schema(
        summary="Add a division",
        request=serializers.NewDivisionSerializer,
        responses={201: serializers.DivisionFactsSerializer},
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Who plays in it is said of each entrant. Organisers only."""
        self.require_runner()
        made = add_division(self.season, **body_of(serializers.NewDivisionSerializer, request), by=self.member)
        return Response(serializers.DivisionFactsSerializer(made).data, status=status.HTTP_201_CREATED)


class OneDivision(OnSeasonApi, APIView):
    @extend_schema(
        summary="Change a division",
        request=serializers.NewDivisionSerializer,
        responses=serializers.DivisionFactsSerializer,
    )
    def put(self, request: Any, *, division: str, **_kwargs: Any) -> Response:
        """Its name, its level, how many go up and down from it. Organisers only."""
        self.require_runner()
        row: Division = get_object_or_404(self.season.divisions.select_related("season__club"), key=division)
        changed = change_division(row, **body_of(serializers.NewDivisionSerializer, request), by=self.member)
        return Response(serializers.DivisionFactsSerializer(changed).data)


class NextSeason(OnSeasonApi, APIView):
    @extend_schema(
        summary="Make the season after this one",
        request=serializers.NextSeasonSerializer,
        responses={201: SeasonSerializer},
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """With the same divisions and everybody still in it, up or down as the tables stand now. Organisers only."""
        self.require_runner()
        made = start_next_season(self.season, **body_of(serializers.NextSeasonSerializer, request), by=self.member)
        return Response(SeasonSerializer(made).data, status=status.HTTP_201_CREATED)
