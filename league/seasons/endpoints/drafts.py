"""Formats, drafts, pins and publishing over the API."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.seasons.endpoints.seasons import OnSeasonApi, found_table, read
from league.seasons.models import Pairing, Pin, Round
from league.seasons.queries.drafts import PinLine, draft_of
from league.seasons.queries.pages import pairing_lines, tables_in_use
from league.seasons.serializers import drafts as serializers
from league.seasons.serializers.seasons import PairingSerializer, RoundSerializer
from league.seasons.services.drafts import publish_round
from league.seasons.services.formats import choose_format, draw_up_rounds
from league.seasons.services.pins import pin_bye, pin_pairing, pin_table, unpin
from league.seasons.services.placing import place_entrant
from league.seasons.services.postponements import postpone

__all__ = ["DraftOf", "DrawUp", "Format", "Pins", "Place", "Postponement", "Publication", "Unpin"]


class OnRoundApi(OnSeasonApi):
    @cached_property
    def round(self) -> Round:
        rounds = self.season.rounds.select_related("season__club", "season__ruleset", "published_by")
        found: Round = get_object_or_404(rounds, number=self.kwargs["number"])
        return found


class Format(OnSeasonApi, APIView):
    @extend_schema(summary="Read how rounds come about", responses=serializers.FormatSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """The format with its options, and its rules in plain words."""
        return Response(serializers.FormatSerializer(self.season).data)

    @extend_schema(
        summary="Choose how rounds come about",
        request=serializers.NewFormatSerializer,
        responses=serializers.FormatSerializer,
    )
    def put(self, request: Any, **_kwargs: Any) -> Response:
        """The format cannot change once a round is published; its options can. Organisers only."""
        self.require_runner()
        facts = read(serializers.NewFormatSerializer, request.data)
        return Response(serializers.FormatSerializer(choose_format(self.season, **facts, by=self.member)).data)


class DrawUp(OnSeasonApi, APIView):
    @extend_schema(summary="Draw up all rounds of a round robin", request=None, responses=RoundSerializer(many=True))
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Those not published yet, by the Berger tables, at once. Organisers only."""
        self.require_runner()
        made = draw_up_rounds(self.season, by=self.member)
        return Response(RoundSerializer(made, many=True).data)


class DraftOf(OnRoundApi, APIView):
    @extend_schema(summary="Read the draft of a round", responses=serializers.DraftSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """Computed anew each time, with the reasons of every pairing and what gave way. Organisers only."""
        self.require_runner()
        return Response(serializers.DraftSerializer(draft_of(self.round)).data)


class Publication(OnRoundApi, APIView):
    @extend_schema(
        summary="Publish a round as drafted",
        request=serializers.PublishSerializer,
        responses=serializers.PublishedSerializer,
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Once for all. 409 when somebody was quicker, or when the draft is not the one that was looked at any more.
        Organisers only."""
        self.require_runner()
        facts = read(serializers.PublishSerializer, request.data)
        return Response(serializers.PublishedSerializer(publish_round(self.round, **facts, by=self.member)).data)


class Pins(OnRoundApi, APIView):
    @extend_schema(
        summary="Fix a part of a round",
        request=serializers.NewPinSerializer,
        responses={201: serializers.PinSerializer},
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """A pairing of two, a bye, or the table for whoever one meets. Organisers only."""
        self.require_runner()
        facts = read(serializers.NewPinSerializer, request.data)
        rows = [self.entrant(key) for key in facts["entrants"]]
        table = None if facts["table"] is None else found_table(tables_in_use(self.club), facts["table"])
        made = self.pin(facts["kind"], [row.pk for row in rows], table)
        line = PinLine(pin=made, entrants=tuple(rows))
        return Response(serializers.PinSerializer(line).data, status=status.HTTP_201_CREATED)

    def pin(self, kind: str, entrant_ids: list[int], table: Any) -> Pin:
        if kind == Pin.Kind.PAIRING:
            return pin_pairing(self.round, entrant_ids=entrant_ids, table=table, by=self.member)
        if kind == Pin.Kind.BYE:
            return pin_bye(self.round, entrant_id=entrant_ids[0], by=self.member)
        return pin_table(self.round, entrant_id=entrant_ids[0], table=table, by=self.member)


class Unpin(OnRoundApi, APIView):
    @extend_schema(summary="Take a pin out", request=None, responses={204: None})
    def delete(self, request: Any, *, pin: int, **_kwargs: Any) -> Response:
        """Not possible once the round is published. Organisers only."""
        self.require_runner()
        row: Pin = get_object_or_404(self.round.pins.select_related("round__season__club"), pk=pin)
        unpin(row, by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)


class Place(OnSeasonApi, APIView):
    @extend_schema(summary="Say what the draw looks at", request=serializers.PlaceSerializer, responses={204: None})
    def put(self, request: Any, *, entrant: str, **_kwargs: Any) -> Response:
        """Division, seeding, household or travelling party, newcomer. Organisers only."""
        self.require_runner()
        facts = read(serializers.PlaceSerializer, request.data)
        key = facts.pop("division")
        division = get_object_or_404(self.season.divisions, key=key) if key else None
        place_entrant(self.entrant(entrant), division=division, **facts, by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)


class Postponement(OnRoundApi, APIView):
    @extend_schema(summary="Postpone a game", request=serializers.PostponeSerializer, responses=PairingSerializer)
    def put(self, request: Any, *, pairing: str, **_kwargs: Any) -> Response:
        """Until a day, that day included. The next round can be paired meanwhile. Organisers only."""
        self.require_runner()
        rows = self.round.pairings.filter(removed_at=None).select_related("round__season__club", "game")
        row: Pairing = get_object_or_404(rows, key=pairing)
        postpone(row, **read(serializers.PostponeSerializer, request.data), by=self.member)
        return Response(PairingSerializer(pairing_lines(self.round.pairings.filter(pk=row.pk), {})[0]).data)
