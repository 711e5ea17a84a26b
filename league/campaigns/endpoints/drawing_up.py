"""Founding a campaign and drawing it up, over the API."""

from __future__ import annotations

from typing import Any

from django.http import Http404
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.api import JSONBody
from league.campaigns import permissions
from league.campaigns.endpoints.drawing_rows import Draft, OnCampaignApi, OnDraftApi, read
from league.campaigns.models import Seat
from league.campaigns.queries.drawing_up import rosters_for, steps_of
from league.campaigns.queries.drawing_up_parts import part_of, read_rules
from league.campaigns.serializers import maps as serializers
from league.campaigns.services.drawing_up import (
    change_about,
    found_campaign,
    import_campaign,
    set_factions,
    set_rules,
    set_start,
)
from league.campaigns.services.enlisting import change_force, discharge, enlist
from league.campaigns.services.seats import leave_seat, take_seat
from league.campaigns.services.starting import start_campaign
from league.clubs.endpoints.rows import body_of, changes_of
from league.clubs.queries import members_of
from league.clubs.scope import InClubApi
from league.engines import war
from league.engines.documents.reading import MOST_BYTES
from league.rulesets.models import Ruleset
from league.rulesets.queries import current_edition

__all__ = [
    "Begin",
    "Drafts",
    "Factions",
    "Forces",
    "Imports",
    "OneDraft",
    "OneForce",
    "OneSeat",
    "Rules",
    "Seats",
    "Start",
]

DRAFT = serializers.CampaignDraftSerializer


class LargeBody(JSONBody):
    most_bytes = MOST_BYTES


class Drafts(InClubApi, APIView):
    @extend_schema(summary="Found a campaign", request=serializers.NewDraftSerializer, responses={201: DRAFT})
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """With an empty map and the usual rules. Umpires and organisers."""
        self.require(permissions.can_found(self.member))
        facts = body_of(serializers.NewDraftSerializer, request)
        ruleset = get_object_or_404(Ruleset.objects.filter(club=self.club), pk=facts.pop("ruleset"))
        made = found_campaign(self.club, edition=current_edition(ruleset), **facts, by=self.member)
        return Response(DRAFT(Draft(made, steps_of(made))).data, status=status.HTTP_201_CREATED)


class Imports(InClubApi, APIView):
    parser_classes = [LargeBody]

    @extend_schema(
        summary="Found a campaign from a document", request=serializers.CampaignImportSerializer, responses={201: DRAFT}
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Its map, factions, start and rules; rosters enlist anew. Umpires and organisers."""
        self.require(permissions.can_found(self.member))
        facts = body_of(serializers.CampaignImportSerializer, request)
        ruleset = get_object_or_404(Ruleset.objects.filter(club=self.club), pk=facts.pop("ruleset"))
        made = import_campaign(self.club, edition=current_edition(ruleset), **facts, by=self.member)
        return Response(DRAFT(Draft(made, steps_of(made))).data, status=status.HTTP_201_CREATED)


class OneDraft(OnDraftApi, APIView):
    @extend_schema(summary="Read what a campaign lacks", responses=DRAFT)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """Each part of the drawing up, and what is missing before the war can start."""
        return Response(DRAFT(self.draft()).data)

    @extend_schema(
        summary="Change what is said about a campaign", request=serializers.DraftChangesSerializer, responses=DRAFT
    )
    def patch(self, request: Any, **_kwargs: Any) -> Response:
        row = self.campaign
        current = {"name": row.name, "about": row.about, "is_public": row.is_public}
        facts = changes_of(serializers.DraftChangesSerializer, request, current)
        return Response(DRAFT(self.draft(change_about(row, **facts, by=self.member))).data)


class Factions(OnDraftApi, APIView):
    @extend_schema(summary="Read the factions", responses=serializers.FactionsSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        return Response(
            {"version": self.campaign.version, "factions": [faction_as_data(each) for each in self.began.factions]}
        )

    @extend_schema(summary="Set the factions", request=serializers.FactionsSerializer, responses=DRAFT)
    def put(self, request: Any, **_kwargs: Any) -> Response:
        """All of them: one that is left out is no faction any more. One with forces or leaders stays."""
        facts = body_of(serializers.FactionsSerializer, request)
        factions = [war.Faction(**each) for each in facts["factions"]]
        made = set_factions(self.campaign, factions=factions, version=facts["version"], by=self.member)
        return Response(DRAFT(self.draft(made)).data)


def faction_as_data(faction: war.Faction) -> dict[str, str]:
    return {"key": faction.key, "name": faction.name, "side": faction.side}


class Start(OnDraftApi, APIView):
    @extend_schema(summary="Read who holds what at the start", responses=serializers.WarStartSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        began = self.began
        parts = {
            "holdings": part_of(began.holdings, tuple[war.Holding, ...]),
            "depots": part_of(began.depots, tuple[war.Depot, ...]),
            "stocks": part_of(began.stocks, tuple[war.Stock, ...]),
        }
        return Response({"version": self.campaign.version, **parts})

    @extend_schema(summary="Set who holds what at the start", request=serializers.WarStartSerializer, responses=DRAFT)
    def put(self, request: Any, **_kwargs: Any) -> Response:
        facts = body_of(serializers.WarStartSerializer, request)
        made = set_start(
            self.campaign,
            holdings=[war.Holding(**each) for each in facts["holdings"]],
            depots=[war.Depot(**each) for each in facts["depots"]],
            stocks=[war.Stock(**each) for each in facts["stocks"]],
            version=facts["version"],
            by=self.member,
        )
        return Response(DRAFT(self.draft(made)).data)


class Rules(OnDraftApi, APIView):
    @extend_schema(summary="Read the rules of the war", responses=serializers.WarRulesSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """What is as usual is left out."""
        return Response({"version": self.campaign.version, "rules": part_of(self.began.rules, war.Rules)})

    @extend_schema(summary="Set the rules of the war", request=serializers.WarRulesSerializer, responses=DRAFT)
    def put(self, request: Any, **_kwargs: Any) -> Response:
        facts = body_of(serializers.WarRulesSerializer, request)
        rules = read(read_rules, facts["rules"], "")
        made = set_rules(self.campaign, rules=rules, version=facts["version"], by=self.member)
        return Response(DRAFT(self.draft(made)).data)


class Forces(OnDraftApi, APIView):
    @extend_schema(summary="List the forces", responses=serializers.ForceSerializer(many=True))
    def get(self, request: Any, **_kwargs: Any) -> Response:
        return Response(serializers.ForceSerializer(self.began.forces, many=True).data)

    @extend_schema(
        summary="Enlist a roster",
        request=serializers.NewForceSerializer,
        responses={201: serializers.ForceSerializer(many=True)},
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """The club's rosters of the campaign's ruleset. Answers with all forces there are then."""
        facts = body_of(serializers.NewForceSerializer, request, rosters=rosters_for(self.campaign))
        enlist(self.campaign, **facts, by=self.member)
        self.campaign.refresh_from_db()
        forces = serializers.ForceSerializer(self.began.forces, many=True)
        return Response(forces.data, status=status.HTTP_201_CREATED)


class OneForce(OnDraftApi, APIView):
    @property
    def force(self) -> str:
        key: str = self.kwargs["force"]
        if not any(each.key == key for each in self.began.forces):
            raise Http404
        return key

    @extend_schema(summary="Change how a force begins", request=serializers.ForceFactsSerializer, responses=DRAFT)
    def put(self, request: Any, **_kwargs: Any) -> Response:
        key = self.force
        facts = body_of(serializers.ForceFactsSerializer, request)
        return Response(DRAFT(self.draft(change_force(self.campaign, force=key, **facts, by=self.member))).data)

    @extend_schema(summary="Take a force out of the campaign", responses={204: None})
    def delete(self, request: Any, **_kwargs: Any) -> Response:
        discharge(self.campaign, force=self.force, by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)


class Begin(OnDraftApi, APIView):
    @extend_schema(summary="Start the campaign", request=None, responses=DRAFT)
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """From then on its map, factions, start and rules stand. Refused with everything that is missing."""
        made = start_campaign(self.campaign, by=self.member)
        return Response(DRAFT(self.draft(made)).data)


class Seats(OnCampaignApi, APIView):
    @extend_schema(summary="List who leads whom", responses=serializers.WarSeatSerializer(many=True))
    def get(self, request: Any, **_kwargs: Any) -> Response:
        rows = Seat.objects.filter(campaign=self.campaign, left_at=None).select_related("member").order_by("pk")
        return Response(serializers.WarSeatSerializer(rows, many=True).data)

    @extend_schema(
        summary="Let a member lead a faction",
        request=serializers.NewWarSeatSerializer,
        responses={201: serializers.WarSeatSerializer},
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """By whoever draws the campaign up; once it runs, by its umpire."""
        self.require_drawing()
        facts = body_of(serializers.NewWarSeatSerializer, request, people=members_of(self.club))
        seat = take_seat(self.campaign, **facts, by=self.member)
        return Response(serializers.WarSeatSerializer(seat).data, status=status.HTTP_201_CREATED)


class OneSeat(OnCampaignApi, APIView):
    @extend_schema(summary="Free a seat", responses={204: None})
    def delete(self, request: Any, **_kwargs: Any) -> Response:
        """One's own, or as whoever draws the campaign up or judges it."""
        rows = Seat.objects.filter(campaign=self.campaign).select_related("member", "campaign__club")
        seat: Seat = get_object_or_404(rows, pk=self.kwargs["chair"])
        leave_seat(seat, by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)
