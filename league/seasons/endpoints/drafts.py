"""Formats, drafts, pins and publishing over the API."""

from __future__ import annotations

from typing import Any

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.endpoints.rows import body_of
from league.seasons.endpoints.rows import OnRoundApi, OnSeasonApi, found_table
from league.seasons.models import Pin
from league.seasons.queries.drafts import PinLine, draft_of
from league.seasons.queries.pages import tables_in_use
from league.seasons.serializers import drafts as serializers
from league.seasons.serializers.seasons import RoundSerializer
from league.seasons.services.drafts import publish_round
from league.seasons.services.formats import choose_format, draw_up_rounds
from league.seasons.services.pins import pin_bye, pin_pairing, pin_table, unpin

__all__ = ["DraftOf", "DrawUp", "Format", "Pins", "Publication", "Unpin"]


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
        facts = body_of(serializers.NewFormatSerializer, request)
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
        facts = body_of(serializers.PublishSerializer, request)
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
        facts = body_of(serializers.NewPinSerializer, request)
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
