"""Ratings over the API."""

from __future__ import annotations

from typing import Any

from django.shortcuts import get_object_or_404
from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.models import Member
from league.clubs.scope import InClubApi
from league.seasons.queries.ratings import rating_curve, ratings_of
from league.seasons.serializers.ratings import CurveSerializer, RatingsSerializer

__all__ = ["Curve", "Ratings"]


class Ratings(InClubApi, APIView):
    @extend_schema(operation_id="clubs_ratings_list", summary="Read the ratings", responses=RatingsSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """Reckoned from every report of the club as it stands now: Glicko-2 by calendar months for games of one
        against one, Plackett-Luce for teams and many sides."""
        told = ratings_of(self.club, viewer=self.member, today=timezone.localdate())
        return Response(RatingsSerializer(told).data)


class Curve(InClubApi, APIView):
    @extend_schema(
        operation_id="clubs_ratings_retrieve", summary="Read a member's rating by months", responses=CurveSerializer
    )
    def get(self, request: Any, *, member: int, **_kwargs: Any) -> Response:
        """From the first month with a game on; empty for one who has not played one against one."""
        found = get_object_or_404(Member.objects.filter(club=self.club).select_related("club"), pk=member)
        curve = rating_curve(found, today=timezone.localdate())
        return Response(CurveSerializer({"member": found.pk, "curve": curve}).data)
