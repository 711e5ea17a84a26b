"""Halls and gaming tables over the API."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response

from league.clubs.endpoints.rows import ClubRows, body_of, changes_of
from league.clubs.filters import VenueFilter
from league.clubs.models import Table, Venue
from league.clubs.permissions import can_run_club
from league.clubs.queries import tables_of, venues_of
from league.clubs.serializers import (
    TableSerializer,
    TableWriteSerializer,
    VenueChangeSerializer,
    VenueSerializer,
    VenueWriteSerializer,
)
from league.clubs.services.venues import add_table, add_venue, change_table, change_venue

__all__ = ["Tables", "Venues"]


@extend_schema_view(
    list=extend_schema(summary="List the venues"),
    retrieve=extend_schema(summary="Read a venue"),
)
class Venues(mixins.ListModelMixin, mixins.RetrieveModelMixin, ClubRows):
    queryset = Venue.objects.none()
    serializer_class = VenueSerializer
    filterset_class = VenueFilter

    def rows(self) -> QuerySet[Venue]:
        return venues_of(self.club).select_related("club")

    def retrieve(self, request: Any, *args: Any, **kwargs: Any) -> Response:
        return self.shown(kwargs["pk"])

    def shown(self, pk: int, code: int = status.HTTP_200_OK) -> Response:
        return Response(self.get_serializer(self.row(pk)).data, status=code)

    @extend_schema(summary="Add a venue", request=VenueWriteSerializer, responses={201: VenueSerializer})
    def create(self, request: Any, club: str) -> Response:
        """For organisers."""
        self.require(can_run_club(self.member))
        venue = add_venue(self.club, **body_of(VenueWriteSerializer, request), by=self.member)
        return self.shown(venue.pk, status.HTTP_201_CREATED)

    @extend_schema(summary="Change, close or reopen a venue", request=VenueChangeSerializer, responses=VenueSerializer)
    def partial_update(self, request: Any, club: str, pk: int) -> Response:
        """For organisers."""
        venue = self.row(pk)
        self.require(can_run_club(self.member))
        current = {
            "name": venue.name,
            "address": venue.address,
            "note": venue.note,
            "is_closed": venue.closed_at is not None,
        }
        change_venue(venue, **changes_of(VenueChangeSerializer, request, current), by=self.member)
        return self.shown(venue.pk)


@extend_schema_view(list=extend_schema(summary="List the tables of a venue"))
class Tables(mixins.ListModelMixin, ClubRows):
    """Sizes are whole millimetres; one inch is 25.4 mm."""

    queryset = Table.objects.none()
    serializer_class = TableSerializer

    def venue(self) -> Venue:
        return get_object_or_404(Venue.objects.filter(club=self.club).select_related("club"), pk=self.kwargs["venue"])

    def rows(self) -> QuerySet[Table]:
        return tables_of(self.venue()).select_related("venue__club")

    @extend_schema(summary="Add a table", request=TableWriteSerializer, responses={201: TableSerializer})
    def create(self, request: Any, club: str, venue: int) -> Response:
        """For organisers."""
        hall = self.venue()
        self.require(can_run_club(self.member))
        table = add_table(hall, **body_of(TableWriteSerializer, request), by=self.member)
        return Response(TableSerializer(table).data, status=status.HTTP_201_CREATED)

    @extend_schema(summary="Change a table", request=TableWriteSerializer, responses=TableSerializer)
    def partial_update(self, request: Any, club: str, venue: int, pk: int) -> Response:
        """For organisers."""
        table = self.row(pk)
        self.require(can_run_club(self.member))
        current = {field: getattr(table, field) for field in ("number", "width_mm", "depth_mm", "note")}
        changed = change_table(table, **changes_of(TableWriteSerializer, request, current), by=self.member)
        return Response(TableSerializer(changed).data)
