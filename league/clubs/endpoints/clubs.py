"""Who I am, my clubs, and what a club's book says."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response
from rest_framework.views import APIView
from rest_framework.viewsets import GenericViewSet

from league.clubs.endpoints.rows import ClubRows, body_of, changes_of
from league.clubs.filters import LogFilter
from league.clubs.models import Club, LogEntry
from league.clubs.permissions import can_run_club
from league.clubs.queries import clubs_of, entries_of
from league.clubs.scope import InClubApi
from league.clubs.serializers import (
    ClubSerializer,
    ClubWriteSerializer,
    LogEntrySerializer,
    MeSerializer,
    MyClubSerializer,
    NewClubSerializer,
)
from league.clubs.services.clubs import change_club, open_club

__all__ = ["Book", "Me", "MyClubs", "OneClub"]


class Me(APIView):
    @extend_schema(summary="Who am I, and what am I in my clubs?", responses=MeSerializer)
    def get(self, request: Any) -> Response:
        """The person behind the token or session, with their clubs and the id of their membership in each."""
        person = request.user
        facts = {"id": person.pk, "email": person.email, "name": person.name, "clubs": clubs_of(person)}
        return Response(MeSerializer(facts).data)


@extend_schema_view(list=extend_schema(summary="List my clubs"))
class MyClubs(mixins.ListModelMixin, GenericViewSet):
    queryset = Club.objects.none()
    serializer_class = MyClubSerializer

    def get_queryset(self) -> QuerySet[Club]:
        return clubs_of(self.request.user)

    @extend_schema(summary="Open a club", request=NewClubSerializer, responses={201: ClubSerializer})
    def create(self, request: Any) -> Response:
        """The founder is its first organiser. The same request once more answers with the same club."""
        club = open_club(request.user, **body_of(NewClubSerializer, request))
        return Response(ClubSerializer(club).data, status=status.HTTP_201_CREATED)


class OneClub(InClubApi, APIView):
    @extend_schema(summary="Read a club", responses=ClubSerializer)
    def get(self, request: Any, club: str) -> Response:
        return Response(ClubSerializer(self.club).data)

    @extend_schema(summary="Describe a club anew", request=ClubWriteSerializer, responses=ClubSerializer)
    def patch(self, request: Any, club: str) -> Response:
        """For organisers."""
        self.require(can_run_club(self.member))
        current = {field: getattr(self.club, field) for field in ("name", "about", "time_zone", "is_public")}
        changed = change_club(self.club, **changes_of(ClubWriteSerializer, request, current), by=self.member)
        return Response(ClubSerializer(changed).data)


@extend_schema_view(list=extend_schema(summary="Read the club's book of acts"))
class Book(mixins.ListModelMixin, ClubRows):
    """Who did what, the latest first, in words."""

    queryset = LogEntry.objects.none()
    serializer_class = LogEntrySerializer
    filterset_class = LogFilter

    def rows(self) -> QuerySet[LogEntry]:
        return entries_of(self.club, reader=self.member)
