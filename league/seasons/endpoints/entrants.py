"""Who takes part in a season, over the API."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from django.utils import timezone
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response
from rest_framework.views import APIView
from rest_framework.viewsets import GenericViewSet

from league.clubs.endpoints.rows import body_of
from league.seasons.endpoints.rows import OnSeasonApi
from league.seasons.models import Entrant
from league.seasons.queries.pages import entrants_of
from league.seasons.queries.seeding import seeding_of
from league.seasons.serializers import drafts as of_drafts
from league.seasons.serializers import seasons as serializers
from league.seasons.services.entrants import enter, readmit, withdraw
from league.seasons.services.placing import place_entrant, seed_everybody

__all__ = ["Entrants", "Place", "Seeding"]


@extend_schema_view(list=extend_schema(summary="List a season's entrants"))
class Entrants(OnSeasonApi, mixins.ListModelMixin, GenericViewSet[Entrant]):
    """Everyone who takes or took part."""

    queryset = Entrant.objects.none()
    serializer_class = serializers.EntrantSerializer

    def get_queryset(self) -> QuerySet[Entrant]:
        return entrants_of(self.season)

    @extend_schema(
        summary="Enter a player or a team",
        request=serializers.NewEntrantSerializer,
        responses={201: serializers.EntrantSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """Without a name a single player's own is taken. Organisers only."""
        self.require_runner()
        made = enter(self.season, **body_of(serializers.NewEntrantSerializer, request), by=self.member)
        return Response(serializers.EntrantSerializer(made).data, status=status.HTTP_201_CREATED)

    @extend_schema(
        summary="Take an entrant out of the season",
        request=serializers.WithdrawalSerializer,
        responses=serializers.EntrantSerializer,
    )
    def withdraw(self, request: Any, *, entrant: str, **_kwargs: Any) -> Response:
        """What becomes of its results the season's rules say. Organisers only."""
        self.require_runner()
        facts = body_of(serializers.WithdrawalSerializer, request)
        left = withdraw(self.entrant(entrant), **facts, by=self.member)
        return Response(serializers.EntrantSerializer(left).data)

    @extend_schema(summary="Let an entrant back in", request=None, responses=serializers.EntrantSerializer)
    def readmit(self, request: Any, *, entrant: str, **_kwargs: Any) -> Response:
        """As if it had not left. Organisers only."""
        self.require_runner()
        return Response(serializers.EntrantSerializer(readmit(self.entrant(entrant), by=self.member)).data)


class Place(OnSeasonApi, APIView):
    @extend_schema(summary="Say what the draw looks at", request=of_drafts.PlaceSerializer, responses={204: None})
    def put(self, request: Any, *, entrant: str, **_kwargs: Any) -> Response:
        """Division, seeding, household or travelling party, newcomer. Organisers only."""
        self.require_runner()
        facts = body_of(of_drafts.PlaceSerializer, request)
        key = facts.pop("division")
        division = get_object_or_404(self.season.divisions, key=key) if key else None
        place_entrant(self.entrant(entrant), division=division, **facts, by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)


class Seeding(OnSeasonApi, APIView):
    @extend_schema(summary="Read the seeding and the ratings", responses=of_drafts.SeedLineSerializer(many=True))
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """The strongest first. Organisers only."""
        self.require_runner()
        return self.told()

    @extend_schema(
        summary="Number the seeding of everybody",
        request=of_drafts.SeedingSerializer,
        responses=of_drafts.SeedLineSerializer(many=True),
    )
    def put(self, request: Any, **_kwargs: Any) -> Response:
        """By the club's ratings of today, or by lot: then nobody has a place. Organisers only."""
        self.require_runner()
        seed_everybody(self.season, **body_of(of_drafts.SeedingSerializer, request), by=self.member)
        return self.told()

    def told(self) -> Response:
        lines = seeding_of(self.season, today=timezone.localdate())
        return Response(of_drafts.SeedLineSerializer(lines, many=True).data)
