"""Nights and who comes, over the API."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response

from league.clubs.endpoints.rows import ClubRows, body_of, changes_of
from league.clubs.filters import NightFilter
from league.clubs.models import Attendance, Night
from league.clubs.permissions import can_answer_for, can_run_club
from league.clubs.queries import AttendanceLine, attendance_of, nights_of
from league.clubs.serializers import AnswerSerializer, AttendanceSerializer, NightSerializer, NightWriteSerializer
from league.clubs.services.nights import answer_night, cancel_night, change_night, plan_night

__all__ = ["NightAttendance", "Nights"]


@extend_schema_view(
    list=extend_schema(summary="List the nights, the latest first"),
    retrieve=extend_schema(summary="Read a night"),
)
class Nights(mixins.ListModelMixin, mixins.RetrieveModelMixin, ClubRows):
    queryset = Night.objects.none()
    serializer_class = NightSerializer
    filterset_class = NightFilter

    def rows(self) -> QuerySet[Night]:
        return nights_of(self.club).select_related("club").order_by("-on", "-starts_at", "-pk")

    def retrieve(self, request: Any, *args: Any, **kwargs: Any) -> Response:
        return self.shown(kwargs["pk"])

    def shown(self, pk: int, code: int = status.HTTP_200_OK) -> Response:
        return Response(self.get_serializer(self.row(pk)).data, status=code)

    @extend_schema(summary="Plan a night", request=NightWriteSerializer, responses={201: NightSerializer})
    def create(self, request: Any, club: str) -> Response:
        """For organisers. The same night once more answers with the same night."""
        self.require(can_run_club(self.member))
        night = plan_night(self.club, **body_of(NightWriteSerializer, request, club=self.club), by=self.member)
        return self.shown(night.pk, status.HTTP_201_CREATED)

    @extend_schema(summary="Change a night", request=NightWriteSerializer, responses=NightSerializer)
    def partial_update(self, request: Any, club: str, pk: int) -> Response:
        """For organisers. Answers stay."""
        night = self.row(pk)
        self.require(can_run_club(self.member))
        current = {field: getattr(night, field) for field in NightWriteSerializer().fields}
        changes = changes_of(NightWriteSerializer, request, current, club=self.club)
        change_night(night, **changes, by=self.member)
        return self.shown(night.pk)

    @extend_schema(summary="Cancel a night", request=None, responses=NightSerializer)
    def cancel(self, request: Any, club: str, pk: int) -> Response:
        """For organisers. The night stays in the list and says so."""
        night = self.row(pk)
        self.require(can_run_club(self.member))
        cancel_night(night, by=self.member)
        return self.shown(night.pk)


@extend_schema_view(list=extend_schema(summary="Who is coming?"))
class NightAttendance(mixins.ListModelMixin, ClubRows):
    """Everybody of the club and what they last said, those who come first."""

    queryset = Attendance.objects.none()
    serializer_class = AttendanceSerializer

    def night(self) -> Night:
        return get_object_or_404(Night.objects.filter(club=self.club).select_related("club"), pk=self.kwargs["night"])

    def list(self, request: Any, *args: Any, **kwargs: Any) -> Response:
        lines = self.paginate_queryset(self.filter_queryset(attendance_of(self.night())))
        return self.get_paginated_response(AttendanceSerializer(lines, many=True).data)

    @extend_schema(summary="Say whether I come", request=AnswerSerializer, responses={200: AttendanceSerializer})
    def create(self, request: Any, club: str, night: int) -> Response:
        """The last word counts. Organisers may answer for others, such as guests."""
        evening = self.night()
        answer = body_of(AnswerSerializer, request, club=self.club)
        who = answer["member"] or self.member
        self.require(can_answer_for(self.member, evening, who))
        said = answer_night(evening, member=who, answer=answer["answer"], by=self.member)
        line = AttendanceLine(member=who, answer=said.answer, said_at=said.said_at)
        return Response(AttendanceSerializer(line).data)
