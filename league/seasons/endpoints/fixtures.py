"""Pairings out of a list that somebody typed, over the API."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.endpoints.rows import body_of
from league.seasons.endpoints.rows import OnSeasonApi
from league.seasons.models import Pairing
from league.seasons.queries.pages import pairing_lines
from league.seasons.serializers.formats import FixturesSerializer
from league.seasons.serializers.seasons import PairingSerializer
from league.seasons.services.fixtures import import_fixtures

__all__ = ["Fixtures"]


class Fixtures(OnSeasonApi, APIView):
    @extend_schema(
        summary="Take in pairings from a list",
        request=FixturesSerializer,
        responses={201: PairingSerializer(many=True)},
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """All of them, with the rounds they need, or none; the answer then names every bad line. Organisers only."""
        self.require_runner()
        made = import_fixtures(self.season, **body_of(FixturesSerializer, request), by=self.member)
        lines = pairing_lines(Pairing.objects.filter(pk__in=[row.pk for row in made]), {})
        return Response(PairingSerializer(lines, many=True).data, status=status.HTTP_201_CREATED)
