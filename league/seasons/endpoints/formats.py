"""Ladders, knock-outs and games that players arrange, over the API."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.endpoints.rows import body_of
from league.seasons import permissions
from league.seasons.endpoints.rows import OnSeasonApi
from league.seasons.models import Season
from league.seasons.queries.brackets import brackets_of
from league.seasons.queries.ladders import rungs_of
from league.seasons.queries.pages import pairing_lines
from league.seasons.serializers import formats as serializers
from league.seasons.serializers.seasons import PairingSerializer
from league.seasons.services.challenges import arrange_game

__all__ = ["Bracket", "Challenges", "Ladder"]


class Ladder(OnSeasonApi, APIView):
    @extend_schema(summary="Read the ladder", responses=serializers.RungSerializer(many=True))
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """From the top, with whom each may challenge. Empty in a season that is none."""
        rungs = rungs_of(self.season) if self.season.format == Season.Format.LADDER else ()
        return Response(serializers.RungSerializer(rungs, many=True).data)


class Bracket(OnSeasonApi, APIView):
    @extend_schema(summary="Read the knock-out", responses=serializers.BracketSerializer(many=True))
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """A bracket for each division, with the places decided so far. Empty in a season that is none."""
        return Response(serializers.BracketSerializer(brackets_of(self.season), many=True).data)


class Challenges(OnSeasonApi, APIView):
    @extend_schema(
        summary="Arrange a game of one's own",
        request=serializers.ChallengeSerializer,
        responses={201: PairingSerializer},
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """In an open season against whom one likes, on a ladder a challenge. Its players and organisers."""
        self.require(permissions.can_arrange(self.member, self.season))
        facts = body_of(serializers.ChallengeSerializer, request)
        keys = facts.pop("entrants")
        pks = dict(self.season.entrants.filter(key__in=keys).values_list("key", "pk"))
        # A key nobody has becomes a number nobody has, for the service to complain of with everything else.
        made = arrange_game(self.season, entrant_ids=[pks.get(key, 0) for key in keys], **facts, by=self.member)
        line = pairing_lines(made.round.pairings.filter(pk=made.pk), {})[0]
        return Response(PairingSerializer(line).data, status=status.HTTP_201_CREATED)
