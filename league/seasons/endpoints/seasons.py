"""Seasons over the API. Every method makes one service or query call; strangers get 404."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response
from rest_framework.views import APIView
from rest_framework.viewsets import GenericViewSet

from league.clubs.endpoints.rows import body_of
from league.rulesets.models import Ruleset
from league.seasons import permissions
from league.seasons.endpoints.rows import OnSeasonApi
from league.seasons.models import Season
from league.seasons.queries.pages import (
    seasons_of,
)
from league.seasons.serializers import seasons as serializers
from league.seasons.services.seasons import change_rules, close_season, create_season

__all__ = ["Close", "Seasons"]


@extend_schema_view(
    list=extend_schema(summary="List the club's seasons"), retrieve=extend_schema(summary="Read a season")
)
class Seasons(OnSeasonApi, mixins.ListModelMixin, mixins.RetrieveModelMixin, GenericViewSet[Season]):
    """The club's seasons, the latest first."""

    queryset = Season.objects.none()
    serializer_class = serializers.SeasonSerializer
    season_in = "pk"

    def get_queryset(self) -> QuerySet[Season]:
        return seasons_of(self.club)

    @extend_schema(
        summary="Make a season",
        request=serializers.NewSeasonSerializer,
        responses={201: serializers.SeasonSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """Organisers only."""
        self.require(permissions.can_start_season(self.member))
        facts = body_of(serializers.NewSeasonSerializer, request)
        ruleset = get_object_or_404(Ruleset.objects.filter(club=self.club), pk=facts.pop("ruleset"))
        made = create_season(self.club, ruleset=ruleset, **facts, by=self.member)
        return Response(serializers.SeasonSerializer(made).data, status=status.HTTP_201_CREATED)

    @extend_schema(
        summary="Change a season's rules",
        request=serializers.RulesChangeSerializer,
        responses=serializers.SeasonSerializer,
    )
    def partial_update(self, request: Any, **_kwargs: Any) -> Response:
        """With a reason that goes into the club's book. The table follows at once. Organisers only."""
        self.require_runner()
        facts = body_of(serializers.RulesChangeSerializer, request)
        changed = change_rules(self.season, **facts, by=self.member)
        return Response(serializers.SeasonSerializer(changed).data)


class Close(OnSeasonApi, APIView):
    @extend_schema(summary="Close a season", request=None, responses=serializers.SeasonSerializer)
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Nobody enters or is paired afterwards; reports can still be corrected. Organisers only."""
        self.require_runner()
        return Response(serializers.SeasonSerializer(close_season(self.season, by=self.member)).data)
