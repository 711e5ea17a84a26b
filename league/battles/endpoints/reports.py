"""Battle reports over the API."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.db.models import QuerySet
from django.http import Http404
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response

from league.battles.filters import ReportFilter
from league.battles.models import Game, Report
from league.battles.queries.pages import report_to_show
from league.battles.queries.report_page import report_page
from league.battles.queries.reports import reports_of, was_sent
from league.battles.serializers.reports import (
    CorrectionSerializer,
    DiceSerializer,
    DisputeSerializer,
    ReportLineSerializer,
    ReportSerializer,
    ReportWriteSerializer,
    SettleSerializer,
    claim_of,
)
from league.battles.services.dice import draw_rolls, enter_dice
from league.battles.services.reports import (
    confirm_report,
    correct_report,
    dispute_report,
    file_report,
    settle_report,
)
from league.clubs.endpoints.rows import ClubRows, body_of
from league.clubs.scope import InClubApi
from league.errors import Refused

__all__ = ["GameReports", "Reports", "report_response"]

MADE = {201: ReportSerializer, 200: ReportSerializer}


def report_response(view: InClubApi, pk: int, code: int = status.HTTP_200_OK) -> Response:
    """The report in full, as whoever asks may see it."""
    report = report_to_show(view.request.user, view.club, pk)  # type: ignore[attr-defined]
    if report is None:
        raise Http404
    return Response(ReportSerializer(report_page(report)).data, status=code)


class GameReports(ClubRows):
    queryset = Game.objects.none()
    serializer_class = ReportWriteSerializer

    def rows(self) -> QuerySet[Game]:
        return Game.objects.filter(club=self.club)

    @extend_schema(summary="File the report of a game", request=ReportWriteSerializer, responses=MADE)
    def create(self, request: Any, club: str, game: int) -> Response:
        """It counts for the rosters at once and waits for the opponent to confirm it.

        Answers 200 with the same report when the submission was sent before.
        """
        row = self.row(game)
        data = body_of(ReportWriteSerializer, request)
        again = was_sent(Report, data["submission"])
        report = file_report(row, claim=claim_of(data), submission=data["submission"], by=self.member)
        return report_response(self, report.pk, status.HTTP_200_OK if again else status.HTTP_201_CREATED)


@extend_schema_view(list=extend_schema(summary="List the reports, the latest first, corrected ones among them"))
class Reports(mixins.ListModelMixin, ClubRows):
    queryset = Report.objects.none()
    serializer_class = ReportLineSerializer
    filterset_class = ReportFilter

    def rows(self) -> QuerySet[Report]:
        return reports_of(self.club).order_by("-pk")

    @extend_schema(summary="Read a report with its casualties and its history", responses=ReportSerializer)
    def retrieve(self, request: Any, club: str, pk: int) -> Response:
        return report_response(self, pk)

    @extend_schema(summary="Correct a report", request=CorrectionSerializer, responses=MADE)
    def correct(self, request: Any, club: str, pk: int) -> Response:
        """The correction takes the report's place; the earlier text stays readable."""
        row = self.row(pk)
        data = body_of(CorrectionSerializer, request)
        again = was_sent(Report, data["submission"])
        report = correct_report(
            row, claim=claim_of(data), reason=data["reason"], submission=data["submission"], by=self.member
        )
        return report_response(self, report.pk, status.HTTP_200_OK if again else status.HTTP_201_CREATED)

    @extend_schema(summary="Confirm a report", request=None, responses=ReportSerializer)
    def confirm(self, request: Any, club: str, pk: int) -> Response:
        """For a player of another side than the filer's. Confirming twice is confirming once."""
        confirm_report(self.row(pk), by=self.member)
        return report_response(self, pk)

    @extend_schema(summary="Dispute a report", request=DisputeSerializer, responses=ReportSerializer)
    def dispute(self, request: Any, club: str, pk: int) -> Response:
        """The rosters stay as reported until an umpire settles it."""
        row = self.row(pk)
        dispute_report(row, **body_of(DisputeSerializer, request), by=self.member)
        return report_response(self, pk)

    @extend_schema(summary="Settle a report", request=SettleSerializer, responses=ReportSerializer)
    def settle(self, request: Any, club: str, pk: int) -> Response:
        """For umpires. A report that is struck out counts nowhere, and its casualties never happened."""
        row = self.row(pk)
        settle_report(row, **body_of(SettleSerializer, request), by=self.member)
        return report_response(self, pk)

    @extend_schema(summary="Enter dice thrown on the table", request=DiceSerializer, responses=ReportSerializer)
    def rolls(self, request: Any, club: str, pk: int) -> Response:
        """All or none. The same dice once more are the dice that lie there."""
        row = self.row(pk)
        thrown = body_of(DiceSerializer, request)["rolls"]
        place = {f"casualty.{each['casualty']}": f"rolls.{index}" for index, each in enumerate(thrown)}
        try:
            enter_dice(row, results={each["casualty"]: each["results"] for each in thrown}, by=self.member)
        except Refused as refusal:
            refusal.violations = tuple(
                replace(each, field=place.get(each.field, each.field)) for each in refusal.violations
            )
            raise
        return report_response(self, pk)

    @extend_schema(summary="Have the site draw the dice", request=None, responses=ReportSerializer)
    def draw(self, request: Any, club: str, pk: int) -> Response:
        """Draws every die that nobody has thrown; the seed is open from then on. Drawing twice draws nothing new."""
        draw_rolls(self.row(pk), by=self.member)
        return report_response(self, pk)
