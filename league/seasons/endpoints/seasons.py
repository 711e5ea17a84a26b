"""Seasons over the API. Every method makes one service or query call; strangers get 404."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.db.models import QuerySet
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.permissions import AllowAny
from rest_framework.response import Response
from rest_framework.views import APIView
from rest_framework.viewsets import GenericViewSet

from league.api import JSONBody
from league.clubs.models import Table
from league.clubs.scope import InClubApi
from league.engines.documents.reading import MOST_BYTES, schema_of
from league.rulesets.models import Ruleset
from league.seasons import permissions
from league.seasons.models import Adjustment, Entrant, Pairing, Round, Season
from league.seasons.queries import explain_cell, season_file, standings
from league.seasons.queries.pages import (
    PairingLine,
    adjustments_of,
    entrants_of,
    pairing_lines,
    rounds_of,
    seasons_of,
    tables_in_use,
)
from league.seasons.serializers import seasons as serializers
from league.seasons.services.adjustments import adjust
from league.seasons.services.entrants import enter, readmit, withdraw
from league.seasons.services.imports import import_season
from league.seasons.services.pairings import mark_unplayed, pair, unpair
from league.seasons.services.rounds import add_round, open_play
from league.seasons.services.seasons import change_rules, close_season, create_season

__all__ = [
    "Adjustments",
    "Close",
    "Documents",
    "Entrants",
    "OneDocument",
    "Pairings",
    "Rounds",
    "SeasonSchema",
    "Seasons",
    "Standings",
    "StandingsCell",
]

ROUND = OpenApiParameter(
    "round", {"type": "integer", "minimum": 0, "maximum": 1000}, description="As it stood after this round."
)
DATE = OpenApiParameter("date", OpenApiTypes.DATE, description="As it stood at the end of this day.")

SCHEMA_JSON = "application/schema+json"


def read(serializer: type[Any], data: Any) -> dict[str, Any]:
    """The body, or the query, checked; every error at once."""
    body = serializer(data=data)
    body.is_valid(raise_exception=True)
    checked: dict[str, Any] = body.validated_data
    return checked


class OnSeasonApi(InClubApi):
    """Under a season of the club, at `season` in the address."""

    kwargs: dict[str, Any]
    request: Any
    season_in = "season"

    @cached_property
    def season(self) -> Season:
        seasons = Season.objects.visible_to(self.request.user).filter(club=self.club)
        found: Season = get_object_or_404(seasons.select_related("club", "ruleset"), pk=self.kwargs[self.season_in])
        return found

    def require_runner(self) -> None:
        self.require(permissions.can_run_season(self.member, self.season))

    def entrant(self, key: str) -> Entrant:
        found: Entrant = get_object_or_404(self.season.entrants.select_related("season__club"), key=key)
        return found


@extend_schema_view(
    list=extend_schema(summary="List the club's seasons"), retrieve=extend_schema(summary="Read a season")
)
class Seasons(OnSeasonApi, mixins.ListModelMixin, mixins.RetrieveModelMixin, GenericViewSet[Season]):
    """The club's seasons, the latest first."""

    queryset = Season.objects.none()
    serializer_class = serializers.SeasonSerializer
    season_in = "pk"

    def get_queryset(self) -> QuerySet[Season]:
        return seasons_of(self.club)

    @extend_schema(
        summary="Make a season",
        request=serializers.NewSeasonSerializer,
        responses={201: serializers.SeasonSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """Organisers only."""
        self.require(permissions.can_start_season(self.member))
        facts = read(serializers.NewSeasonSerializer, request.data)
        ruleset = get_object_or_404(Ruleset.objects.filter(club=self.club), pk=facts.pop("ruleset"))
        made = create_season(self.club, ruleset=ruleset, **facts, by=self.member)
        return Response(serializers.SeasonSerializer(made).data, status=status.HTTP_201_CREATED)

    @extend_schema(
        summary="Change a season's rules",
        request=serializers.RulesChangeSerializer,
        responses=serializers.SeasonSerializer,
    )
    def partial_update(self, request: Any, **_kwargs: Any) -> Response:
        """With a reason that goes into the club's book. The table follows at once. Organisers only."""
        self.require_runner()
        facts = read(serializers.RulesChangeSerializer, request.data)
        changed = change_rules(self.season, **facts, by=self.member)
        return Response(serializers.SeasonSerializer(changed).data)


class Close(OnSeasonApi, APIView):
    @extend_schema(summary="Close a season", request=None, responses=serializers.SeasonSerializer)
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Nobody enters or is paired afterwards; reports can still be corrected. Organisers only."""
        self.require_runner()
        return Response(serializers.SeasonSerializer(close_season(self.season, by=self.member)).data)


@extend_schema_view(list=extend_schema(summary="List a season's entrants"))
class Entrants(OnSeasonApi, mixins.ListModelMixin, GenericViewSet[Entrant]):
    """Everyone who takes or took part."""

    queryset = Entrant.objects.none()
    serializer_class = serializers.EntrantSerializer

    def get_queryset(self) -> QuerySet[Entrant]:
        return entrants_of(self.season)

    @extend_schema(
        summary="Enter a player or a team",
        request=serializers.NewEntrantSerializer,
        responses={201: serializers.EntrantSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """Without a name a single player's own is taken. Organisers only."""
        self.require_runner()
        made = enter(self.season, **read(serializers.NewEntrantSerializer, request.data), by=self.member)
        return Response(serializers.EntrantSerializer(made).data, status=status.HTTP_201_CREATED)

    @extend_schema(
        summary="Take an entrant out of the season",
        request=serializers.WithdrawalSerializer,
        responses=serializers.EntrantSerializer,
    )
    def withdraw(self, request: Any, *, entrant: str, **_kwargs: Any) -> Response:
        """What becomes of its results the season's rules say. Organisers only."""
        self.require_runner()
        facts = read(serializers.WithdrawalSerializer, request.data)
        left = withdraw(self.entrant(entrant), **facts, by=self.member)
        return Response(serializers.EntrantSerializer(left).data)

    @extend_schema(summary="Let an entrant back in", request=None, responses=serializers.EntrantSerializer)
    def readmit(self, request: Any, *, entrant: str, **_kwargs: Any) -> Response:
        """As if it had not left. Organisers only."""
        self.require_runner()
        return Response(serializers.EntrantSerializer(readmit(self.entrant(entrant), by=self.member)).data)


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
        facts = read(serializers.NewRoundSerializer, request.data)
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
        facts = read(serializers.NewPairingSerializer, request.data)
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
        marks = read(serializers.MarksSerializer, request.data)["seats"]
        pks = dict(self.season.entrants.filter(key__in=marks).values_list("key", "pk"))
        mark_unplayed(marked, seats={pks.get(key, 0): mark for key, mark in marks.items()}, by=self.member)
        return Response(serializers.PairingSerializer(self.lines(pk=marked.pk)[0]).data)


def found_table(tables: QuerySet[Table], pk: int) -> Table:
    found: Table = get_object_or_404(tables, pk=pk)
    return found


@extend_schema_view(list=extend_schema(summary="List points given and taken"))
class Adjustments(OnSeasonApi, mixins.ListModelMixin, GenericViewSet[Adjustment]):
    """The latest first, each with its reason."""

    queryset = Adjustment.objects.none()
    serializer_class = serializers.AdjustmentSerializer

    def get_queryset(self) -> QuerySet[Adjustment]:
        return adjustments_of(self.season)

    @extend_schema(
        summary="Give or take points",
        request=serializers.NewAdjustmentSerializer,
        responses={201: serializers.AdjustmentSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """It cannot be changed afterwards; a second adjustment can undo it. Organisers only."""
        self.require_runner()
        facts = read(serializers.NewAdjustmentSerializer, request.data)
        made = adjust(self.season, entrant=self.entrant(facts.pop("entrant")), **facts, by=self.member)
        return Response(serializers.AdjustmentSerializer(made).data, status=status.HTTP_201_CREATED)


class Standings(OnSeasonApi, APIView):
    @extend_schema(summary="Read the table", parameters=[ROUND, DATE], responses=serializers.StandingsSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """As of now, or as it stood after a round or at the end of a day."""
        asked = read(serializers.StandingsQuerySerializer, request.query_params.dict())
        reckoned = standings(self.season, through_round=asked["round"], through_date=asked["date"])
        return Response(serializers.StandingsSerializer(reckoned).data)


class StandingsCell(OnSeasonApi, APIView):
    @extend_schema(
        operation_id="clubs_seasons_standings_reasons",
        summary="Read the reasons of one number",
        parameters=[ROUND, DATE],
        responses=serializers.CellSerializer,
    )
    def get(self, request: Any, *, entrant: str, column: str, **_kwargs: Any) -> Response:
        """Columns: points, points_per_game, played, won, drawn, lost, unplayed, score_for, score_against, and every
        tie-break of the season by its name.
        """
        asked = read(serializers.StandingsQuerySerializer, request.query_params.dict())
        reckoned = standings(self.season, through_round=asked["round"], through_date=asked["date"])
        try:
            cell = explain_cell(reckoned, entrant=entrant, column=column)
        except KeyError:
            raise Http404 from None
        return Response(serializers.CellSerializer(cell).data)


class OneDocument(OnSeasonApi, APIView):
    @extend_schema(
        summary="Download a season as a document",
        responses={(200, "application/json"): {"type": "object", "description": "A season document."}},
    )
    def get(self, request: Any, **_kwargs: Any) -> HttpResponse:
        """In canonical form: the same season is the same bytes. Its schema is season.json."""
        return HttpResponse(season_file(self.season), content_type="application/json")


class DocumentBody(JSONBody):
    most_bytes = MOST_BYTES


class Documents(InClubApi, APIView):
    parser_classes = [DocumentBody]

    @extend_schema(
        summary="Make a season of a document",
        request=serializers.ImportSerializer,
        responses={201: serializers.SeasonSerializer},
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Players are found among the club's people by exact name; others become guests. Organisers only."""
        self.require(permissions.can_start_season(self.member))
        facts = read(serializers.ImportSerializer, request.data)
        ruleset = get_object_or_404(Ruleset.objects.filter(club=self.club), pk=facts.pop("ruleset"))
        made = import_season(self.club, ruleset=ruleset, **facts, by=self.member)
        return Response(serializers.SeasonSerializer(made).data, status=status.HTTP_201_CREATED)


class SeasonSchema(APIView):
    """The JSON Schema of season documents; anyone may read it."""

    permission_classes = [AllowAny]

    @extend_schema(
        summary="Read the JSON Schema of season documents",
        responses={(200, SCHEMA_JSON): {"type": "object", "description": "JSON Schema 2020-12."}},
    )
    def get(self, request: Any) -> Response:
        return Response(schema_of("season"), content_type=SCHEMA_JSON)
