"""Games over the API: the list, planning, starting, cancelling, and logging one that is over."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response

from league.battles import permissions
from league.battles.endpoints.reports import report_response
from league.battles.filters import GameFilter
from league.battles.models import Game, Report
from league.battles.queries.games import with_lines
from league.battles.queries.reports import was_sent
from league.battles.serializers.games import GameSerializer, GameWriteSerializer, NamedRostersSerializer
from league.battles.serializers.reports import LogSerializer, ReportSerializer, claim_of
from league.battles.services.forces import name_rosters
from league.battles.services.games import cancel_game, plan_game, start_game
from league.battles.services.reports import log_game
from league.clubs.endpoints.rows import ClubRows, body_of
from league.errors import Refused

__all__ = ["Games", "Log"]


@extend_schema_view(
    list=extend_schema(summary="List the games, the latest first"),
    retrieve=extend_schema(summary="Read a game"),
)
class Games(mixins.ListModelMixin, mixins.RetrieveModelMixin, ClubRows):
    queryset = Game.objects.none()
    serializer_class = GameSerializer
    filterset_class = GameFilter

    def rows(self) -> QuerySet[Game]:
        return with_lines(Game.objects.filter(club=self.club)).order_by("-on", "-pk")

    def shown(self, pk: int, code: int = status.HTTP_200_OK) -> Response:
        return Response(self.get_serializer(self.row(pk)).data, status=code)

    @extend_schema(
        summary="Plan a game",
        request=GameWriteSerializer,
        responses={201: GameSerializer, 200: GameSerializer},
    )
    def create(self, request: Any, club: str) -> Response:
        """Answers 200 with the same game when the submission was sent before."""
        data = body_of(GameWriteSerializer, request, club=self.club)
        again = was_sent(Game, data["submission"])
        plan = GameWriteSerializer.plan(data)
        game = plan_game(
            self.club,
            edition=plan.edition,
            scenario=plan.scenario,
            on=plan.on,
            sides=plan.sides,
            night=plan.night,
            table=plan.table,
            note=plan.note,
            submission=data["submission"],
            by=self.member,
        )
        return self.shown(game.pk, status.HTTP_200_OK if again else status.HTTP_201_CREATED)

    @extend_schema(summary="Start a game", request=None, responses=GameSerializer)
    def start(self, request: Any, club: str, pk: int) -> Response:
        """Freezes the rosters as they stand. Starting twice is starting once."""
        start_game(self.row(pk), by=self.member)
        return self.shown(pk)

    @extend_schema(summary="Cancel a game", request=None, responses=GameSerializer)
    def cancel(self, request: Any, club: str, pk: int) -> Response:
        """A game that has a report cannot be cancelled. Cancelling twice is cancelling once."""
        cancel_game(self.row(pk), by=self.member)
        return self.shown(pk)

    @extend_schema(
        summary="Say which rosters were on the table", request=NamedRostersSerializer, responses=GameSerializer
    )
    def rosters(self, request: Any, club: str, pk: int) -> Response:
        """For sides that have none yet, before or after the game has begun; the same once more changes nothing."""
        game = self.row(pk)
        self.require(permissions.can_file(self.member, game))
        named = body_of(NamedRostersSerializer, request)["sides"]
        place = {f"sides.{each['position'] - 1}.roster_id": f"sides.{at}.roster_id" for at, each in enumerate(named)}
        try:
            name_rosters(game, rosters={each["position"]: each["roster_id"] for each in named}, by=self.member)
        except Refused as refusal:
            # The service counts sides by their position, the body by their place in its list.
            refusal.violations = tuple(
                replace(each, field=place.get(each.field, each.field)) for each in refusal.violations
            )
            raise
        return self.shown(pk)


class Log(ClubRows):
    queryset = Game.objects.none()
    serializer_class = LogSerializer

    @extend_schema(
        summary="Log a game that is over: plan and report in one",
        request=LogSerializer,
        responses={201: ReportSerializer, 200: ReportSerializer},
    )
    def create(self, request: Any, club: str) -> Response:
        """Everything that is wrong with the plan and the report is told at once; nothing is half done.

        Answers 200 with the same report when the submission was sent before.
        """
        data = body_of(LogSerializer, request, club=self.club)
        again = was_sent(Report, data["submission"])
        try:
            report = log_game(
                self.club,
                plan=LogSerializer.plan(data),
                claim=claim_of(data),
                submission=data["submission"],
                by=self.member,
            )
        except Refused as refusal:
            # A logged game has one date, which the body calls `on`.
            refusal.violations = tuple(
                replace(each, field="on") if each.field == "fought_on" else each for each in refusal.violations
            )
            raise
        return report_response(self, report.pk, status.HTTP_200_OK if again else status.HTTP_201_CREATED)
