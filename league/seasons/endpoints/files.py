"""A season as a document, over the API."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.permissions import AllowAny
from rest_framework.response import Response
from rest_framework.views import APIView

from league.api import JSONBody
from league.clubs.endpoints.rows import body_of
from league.clubs.scope import InClubApi
from league.engines.documents.reading import MOST_BYTES, schema_of
from league.rulesets.models import Ruleset
from league.seasons import permissions
from league.seasons.endpoints.rows import OnSeasonApi
from league.seasons.queries import season_file
from league.seasons.serializers import seasons as serializers
from league.seasons.services.imports import import_season

__all__ = ["Documents", "OneDocument", "SeasonSchema"]


SCHEMA_JSON = "application/schema+json"


class OneDocument(OnSeasonApi, APIView):
    @extend_schema(
        summary="Download a season as a document",
        responses={(200, "application/json"): {"type": "object", "description": "A season document."}},
    )
    def get(self, request: Any, **_kwargs: Any) -> HttpResponse:
        """In canonical form: the same season is the same bytes. Its schema is season.json.

        Households and travelling parties are in it for organisers only.
        """
        return HttpResponse(season_file(self.season, reader=self.member), content_type="application/json")


class DocumentBody(JSONBody):
    most_bytes = MOST_BYTES


class Documents(InClubApi, APIView):
    parser_classes = [DocumentBody]

    @extend_schema(
        summary="Make a season of a document",
        request=serializers.ImportSerializer,
        responses={201: serializers.SeasonSerializer},
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Players are found among the club's people by exact name; others become guests. Organisers only."""
        self.require(permissions.can_start_season(self.member))
        facts = body_of(serializers.ImportSerializer, request)
        ruleset = get_object_or_404(Ruleset.objects.filter(club=self.club), pk=facts.pop("ruleset"))
        made = import_season(self.club, ruleset=ruleset, **facts, by=self.member)
        return Response(serializers.SeasonSerializer(made).data, status=status.HTTP_201_CREATED)


class SeasonSchema(APIView):
    """The JSON Schema of season documents; anyone may read it."""

    permission_classes = [AllowAny]

    @extend_schema(
        summary="Read the JSON Schema of season documents",
        responses={(200, SCHEMA_JSON): {"type": "object", "description": "JSON Schema 2020-12."}},
    )
    def get(self, request: Any) -> Response:
        return Response(schema_of("season"), content_type=SCHEMA_JSON)
