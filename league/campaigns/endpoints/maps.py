"""The map of a campaign, over the API: as a document and as GraphML, before the war and while it is on."""

from __future__ import annotations

import json
from typing import Any

from django.http import HttpResponse
from drf_spectacular.utils import extend_schema
from rest_framework import status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.api import JSONBody
from league.campaigns import permissions
from league.campaigns.endpoints.drawing_rows import OnCampaignApi, OnDraftApi, read
from league.campaigns.models import Campaign
from league.campaigns.queries.drawing_up_files import graphml_of, json_of, map_of, map_text, read_any
from league.campaigns.queries.drawing_up_parts import read_effects
from league.campaigns.serializers import maps as serializers
from league.campaigns.services.drawing_up import write_map
from league.campaigns.services.map_edits import edit_map
from league.clubs.endpoints.rows import body_of
from league.engines.documents.map import read_map
from league.engines.documents.reading import MOST_BYTES

__all__ = ["CampaignGraphml", "CampaignMap", "DraftGraphml", "DraftMap"]

GRAPHML = "application/graphml+xml"


class LargeBody(JSONBody):
    most_bytes = MOST_BYTES


class DraftMap(OnDraftApi, APIView):
    parser_classes = [LargeBody]

    @extend_schema(summary="Read the map of a campaign that is drawn up", responses=serializers.MapSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        return Response(map_as_data(self.campaign))

    @extend_schema(
        summary="Put a map in place of the one there is",
        request=serializers.MapSerializer,
        responses=serializers.MapSerializer,
    )
    def put(self, request: Any, **_kwargs: Any) -> Response:
        """Who held a region that is gone holds nothing there any more; a region where a force begins stays."""
        facts = body_of(serializers.MapSerializer, request)
        told = read(read_map, facts["map"], "map")
        made = write_map(
            self.campaign, of=told.map, holders=told.holders or None, version=facts["version"], by=self.member
        )
        return Response(map_as_data(made))


class DraftGraphml(OnDraftApi, APIView):
    parser_classes = [LargeBody]

    @extend_schema(
        summary="Put a map of another tool in place of the one there is",
        request=serializers.GraphmlSerializer,
        responses=serializers.MapSerializer,
    )
    def put(self, request: Any, **_kwargs: Any) -> Response:
        facts = body_of(serializers.GraphmlSerializer, request)
        told = read(read_any, facts["graphml"].encode("utf-8", "surrogatepass"), "graphml")
        made = write_map(self.campaign, of=told.map, holders=told.holders, version=facts["version"], by=self.member)
        return Response(map_as_data(made))


def map_as_data(campaign: Campaign) -> dict[str, Any]:
    return {"version": campaign.version, "map": json.loads(map_text(map_of(campaign)))}


class CampaignMap(OnCampaignApi, APIView):
    parser_classes = [LargeBody]

    @extend_schema(
        summary="Read the map of a campaign as it is today",
        responses={(200, "application/json"): {"type": "object", "description": "A map document."}},
    )
    def get(self, request: Any, **_kwargs: Any) -> HttpResponse:
        """Regions and roads; who holds what is not for everybody. Its schema is map.json."""
        require_reader(self)
        return HttpResponse(json_of(self.campaign), content_type="application/json")

    @extend_schema(
        summary="Change the map while the war is on",
        request=serializers.ChangedMapSerializer,
        responses={(201, "application/json"): {"type": "object", "description": "A map document."}},
    )
    def post(self, request: Any, **_kwargs: Any) -> HttpResponse:
        """From this turn's orders on. Every force on ground that goes must be spoken of. The umpire."""
        self.require(permissions.can_judge(self.member, self.campaign, self.seat))
        facts = body_of(serializers.ChangedMapSerializer, request)
        of = read(read_map, facts.pop("map"), "map").map
        effects = read(read_effects, facts.pop("effects"), "")
        edit_map(self.campaign, of=of, effects=effects, **facts, by=self.member)
        return HttpResponse(json_of(self.campaign), content_type="application/json", status=status.HTTP_201_CREATED)


def require_reader(view: OnCampaignApi) -> None:
    """Members of the club once the war is on; before that those who draw it up."""
    started = view.campaign.started_at is not None
    view.require(started or permissions.can_draw_up(view.member, view.campaign, view.seat))


class CampaignGraphml(OnCampaignApi, APIView):
    @extend_schema(
        summary="Read the map of a campaign as GraphML",
        responses={(200, GRAPHML): {"type": "string", "description": "GraphML."}},
    )
    def get(self, request: Any, **_kwargs: Any) -> HttpResponse:
        require_reader(self)
        return HttpResponse(graphml_of(self.campaign), content_type=GRAPHML)
