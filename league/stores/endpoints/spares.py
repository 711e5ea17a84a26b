"""Who has spare …? And how many are enough? And what does a first game need? Over the API."""

from __future__ import annotations

from typing import Any

from django.shortcuts import get_object_or_404
from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.endpoints.rows import asked_of
from league.clubs.scope import InClubApi
from league.rosters.models import Roster
from league.stores.models import Category
from league.stores.queries.enough_page import MOST_TABLES, enough_page
from league.stores.queries.first_game_page import first_game_page
from league.stores.queries.spares import SpareAsk, find_spares
from league.stores.serializers import advice as serializers

__all__ = ["Enough", "FirstGame", "Spares"]

SPARES = [
    OpenApiParameter(
        "q", {"type": "string", "maxLength": 200}, description="As one would type it: red markers, free on the 12th."
    ),
    OpenApiParameter("on", {"type": "string", "format": "date"}, description="The day they are to be free on."),
    OpenApiParameter("category", {"type": "string", "enum": Category.values}),
    OpenApiParameter("colour", {"type": "string", "maxLength": 40}),
    OpenApiParameter("scale_mm", {"type": "integer", "minimum": 1, "maximum": 200}),
]
ENOUGH = [
    OpenApiParameter("what", {"type": "string", "enum": ["markers", "dice"]}, description="Markers if left out."),
    OpenApiParameter("tables", {"type": "integer", "minimum": 1, "maximum": MOST_TABLES}, description="6 if left out."),
    OpenApiParameter("percent", {"type": "integer", "minimum": 1, "maximum": 99}, description="95 if left out."),
]


class Spares(InClubApi, APIView):
    """What is free of what was asked for, the most first."""

    @extend_schema(summary="Who has spare …?", parameters=SPARES, responses=serializers.SparesSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """Holdings one may see with more than nothing spare on the day: held, less kept, less lent, less promised. The
        first two hundred are told, `found` says how many there are."""
        asked = asked_of(serializers.SparesQuerySerializer, request)
        ask = SpareAsk(text=asked.pop("q"), **asked)
        found = find_spares(request.user, self.club, ask, today=timezone.localdate())
        return Response(serializers.SparesSerializer(found).data)


class Enough(InClubApi, APIView):
    @extend_schema(summary="How many are enough?", parameters=ENOUGH, responses=serializers.EnoughSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """For so many tables at once, in so many of 100 evenings, by what the club's reports say was in use."""
        asked = asked_of(serializers.EnoughQuerySerializer, request)
        return Response(serializers.EnoughSerializer(enough_page(self.club, **asked)).data)


class FirstGame(InClubApi, APIView):
    @extend_schema(summary="What does a first game with a roster need?", responses=serializers.FirstGameSerializer)
    def get(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """As one's own kit has it: what is there already, what is lent, made, and bought last."""
        rosters = Roster.objects.visible_to(request.user).filter(club=self.club)
        roster = get_object_or_404(rosters.select_related("ruleset", "owner", "club"), pk=pk)
        page = first_game_page(roster, self.member, today=timezone.localdate())
        return Response(serializers.FirstGameSerializer(page).data)
