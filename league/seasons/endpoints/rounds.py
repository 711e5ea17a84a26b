"""Rounds and who meets whom in them, over the API."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response
from rest_framework.views import APIView
from rest_framework.viewsets import GenericViewSet

from league.clubs.endpoints.rows import body_of
from league.seasons.endpoints.rows import OnRoundApi, OnSeasonApi, found_table
from league.seasons.models import Pairing, Round
from league.seasons.queries.pages import (
    PairingLine,
    pairing_lines,
    rounds_of,
    tables_in_use,
)
from league.seasons.serializers import drafts as of_drafts
from league.seasons.serializers import seasons as serializers
from league.seasons.serializers.seasons import PairingSerializer
from league.seasons.services.marks import mark_unplayed
from league.seasons.services.pairings import pair, unpair
from league.seasons.services.postponements import postpone
from league.seasons.services.rounds import add_round, open_play

__all__ = ["Pairings", "Postponement", "Rounds"]


@extend_schema_view(list=extend_schema(summary="List a season's rounds"))
class Rounds(OnSeasonApi, mixins.ListModelMixin, GenericViewSet[Round]):
    """By number; 0 is open play, where an entrant may play any number of games."""

    queryset = Round.objects.none()
    serializer_class = serializers.RoundSerializer

    def get_queryset(self) -> QuerySet[Round]:
        return rounds_of(self.season)

    @extend_schema(
        summary="Add a round", request=serializers.NewRoundSerializer, responses={201: serializers.RoundSerializer}
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """Without a number the next one is taken; 0 allows open play. Organisers only."""
        self.require_runner()
        facts = body_of(serializers.NewRoundSerializer, request)
        if facts["number"] == 0:
            made = open_play(self.season, by=self.member)
        else:
            made = add_round(self.season, **facts, by=self.member)
        return Response(serializers.RoundSerializer(made).data, status=status.HTTP_201_CREATED)


class Pairings(OnSeasonApi, GenericViewSet[Pairing]):
    """The pairings of one round, with their results."""

    queryset = Pairing.objects.none()
    serializer_class = serializers.PairingSerializer
    pagination_class = None
    filter_backends = []

    @cached_property
    def round(self) -> Round:
        found: Round = get_object_or_404(
            self.season.rounds.select_related("season__club"), number=self.kwargs["number"]
        )
        return found

    def pairing(self, key: str) -> Pairing:
        standing = self.round.pairings.filter(removed_at=None).select_related("round__season__club", "game")
        found: Pairing = get_object_or_404(standing, key=key)
        return found

    def lines(self, **narrowed: Any) -> list[PairingLine]:
        return pairing_lines(self.round.pairings.filter(**narrowed), {})

    @extend_schema(summary="List a round's pairings", responses=serializers.PairingSerializer(many=True))
    def list(self, request: Any, **_kwargs: Any) -> Response:
        """In their order, byes among them."""
        return Response(serializers.PairingSerializer(self.lines(), many=True).data)

    @extend_schema(
        summary="Pair entrants of a round",
        request=serializers.NewPairingSerializer,
        responses={201: serializers.PairingSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """Plans their game, so that its players can log it at once. Organisers only."""
        self.require_runner()
        facts = body_of(serializers.NewPairingSerializer, request)
        table = facts.pop("table")
        keys = facts.pop("entrants")
        pks = dict(self.season.entrants.filter(key__in=keys).values_list("key", "pk"))
        made = pair(
            self.round,
            # A key nobody has becomes a number nobody has, for the service to complain of with everything else.
            entrant_ids=[pks.get(key, 0) for key in keys],
            table=None if table is None else found_table(tables_in_use(self.club), table),
            **facts,
            by=self.member,
        )
        line = self.lines(pk=made.pk)[0]
        return Response(serializers.PairingSerializer(line).data, status=status.HTTP_201_CREATED)

    @extend_schema(summary="Take a pairing back", request=None, responses={204: None})
    def destroy(self, request: Any, *, pairing: str, **_kwargs: Any) -> Response:
        """Its game is cancelled; not possible once there is a report. Organisers only."""
        self.require_runner()
        unpair(self.pairing(pairing), by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)

    @extend_schema(
        summary="Mark who did not play",
        request=serializers.MarksSerializer,
        responses=serializers.PairingSerializer,
    )
    def mark(self, request: Any, *, pairing: str, **_kwargs: Any) -> Response:
        """Forfeits, byes, absences; an empty mark says that they play after all. Organisers only."""
        self.require_runner()
        marked = self.pairing(pairing)
        marks = body_of(serializers.MarksSerializer, request)["seats"]
        pks = dict(self.season.entrants.filter(key__in=marks).values_list("key", "pk"))
        mark_unplayed(marked, seats={pks.get(key, 0): mark for key, mark in marks.items()}, by=self.member)
        return Response(serializers.PairingSerializer(self.lines(pk=marked.pk)[0]).data)


class Postponement(OnRoundApi, APIView):
    @extend_schema(summary="Postpone a game", request=of_drafts.PostponeSerializer, responses=PairingSerializer)
    def put(self, request: Any, *, pairing: str, **_kwargs: Any) -> Response:
        """Until a day, that day included. The next round can be paired meanwhile. Organisers only."""
        self.require_runner()
        rows = self.round.pairings.filter(removed_at=None).select_related("round__season__club", "game")
        row: Pairing = get_object_or_404(rows, key=pairing)
        postpone(row, **body_of(of_drafts.PostponeSerializer, request), by=self.member)
        return Response(PairingSerializer(pairing_lines(self.round.pairings.filter(pk=row.pk), {})[0]).data)
