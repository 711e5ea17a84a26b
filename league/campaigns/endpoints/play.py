"""Campaigns over the API: where a war stands, its turns, orders, dice and stories."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from django.db.models import QuerySet
from django.http import Http404, HttpResponse
from django.utils import timezone
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.campaigns import permissions
from league.campaigns.endpoints.rows import OnCampaignApi, OnWarApi, refusal_of
from league.campaigns.models import Campaign, Story
from league.campaigns.queries.dice_page import dice_of
from league.campaigns.queries.files import campaign_file
from league.campaigns.queries.orders_page import given_by
from league.campaigns.queries.seats import seat_of
from league.campaigns.queries.state_data import turn_data
from league.campaigns.serializers import play as serializers
from league.campaigns.services.orders import give_orders
from league.campaigns.services.stories import hide_story, tell_story
from league.campaigns.services.turns import reveal_what_is_due
from league.clubs.endpoints.rows import ClubRows, body_of
from league.engines.documents.campaign import read_orders, write_orders
from league.engines.documents.reading import BadDocument

__all__ = ["Campaigns", "Dice", "Document", "Due", "Now", "Orders", "Stories", "StoryHide", "Turn"]

TURN = {"type": "object", "description": "A turn of the war as whoever asks may see it."}
SET = {"type": "object", "description": "A faction's orders for the turn being planned; null where none are given."}


@extend_schema_view(
    list=extend_schema(summary="List the club's campaigns"), retrieve=extend_schema(summary="Read one campaign")
)
class Campaigns(mixins.ListModelMixin, mixins.RetrieveModelMixin, ClubRows):
    queryset = Campaign.objects.none()
    serializer_class = serializers.CampaignSerializer

    def rows(self) -> QuerySet[Campaign]:
        seen = Campaign.objects.visible_to(self.request.user).filter(club=self.club)
        return seen.select_related("edition__ruleset").order_by("-pk")


class Now(OnWarApi, APIView):
    @extend_schema(summary="Read where a war stands", responses={(200, "application/json"): TURN})
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """The newest turn one may see: own forces, what scouts see, what was revealed; spectators are late."""
        view = self.seen.view()
        if view is None:
            raise Http404
        return Response(turn_data(self.seen, view))


class Turn(OnWarApi, APIView):
    @extend_schema(summary="Read one turn of a war", responses={(200, "application/json"): TURN})
    def get(self, request: Any, *, turn: int, **_kwargs: Any) -> Response:
        """With what happened in plain sentences; 404 where one may not see it yet."""
        view = self.seen.view(turn)
        if view is None:
            raise Http404
        return Response(turn_data(self.seen, view))


class Orders(OnWarApi, APIView):
    """One's own faction's orders for the turn being planned; nobody else's, ever."""

    def faction(self) -> str:
        seat = seat_of(self.member, self.campaign)
        self.require(seat is not None)
        return seat.faction if seat else ""

    def told(self) -> Response:
        given = given_by(self.seen, self.faction())
        orders = {"orders": write_orders(given.orders), "importance": list(given.importance)} if given else None
        return Response({"turn": self.seen.war.turn, "faction": self.faction(), "given": orders})

    @extend_schema(summary="Read one's faction's orders", responses={(200, "application/json"): SET})
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """Those who lead the faction only."""
        return self.told()

    @extend_schema(
        summary="Give one's faction's orders",
        request=serializers.OrdersSerializer,
        responses={(200, "application/json"): SET},
    )
    def put(self, request: Any, **_kwargs: Any) -> Response:
        """The whole set at once; the last legal set before the reveal counts. A problem names each order."""
        faction = self.faction()
        facts = body_of(serializers.OrdersSerializer, request)
        try:
            orders = read_orders(facts["orders"])
        except BadDocument as failure:
            raise refusal_of(failure, "orders") from failure
        give_orders(
            self.campaign,
            faction=faction,
            turn=facts["turn"],
            orders=orders,
            importance=facts["importance"],
            submission=facts["submission"],
            by=self.member,
        )
        del self.seen
        return self.told()


class Due(OnWarApi, APIView):
    @extend_schema(summary="Reveal orders whose deadline has passed", request=None, responses={204: None})
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Any member may ask for it; before the deadline nothing happens."""
        reveal_what_is_due(self.campaign, now=timezone.now())
        return Response(status=status.HTTP_204_NO_CONTENT)


class Dice(OnWarApi, APIView):
    @extend_schema(
        summary="Check a war's dice",
        responses={(200, "application/json"): {"type": "object", "description": "Seeds, and each roll drawn again."}},
    )
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """A turn's seed is told when the turn is over; its SHA-256 was shown before the orders."""
        page = dice_of(self.seen)
        return Response(
            {"seeds": [asdict(each) for each in page.seeds], "rolls": [asdict(each) for each in page.rolls]}
        )


class Document(OnWarApi, APIView):
    @extend_schema(
        summary="Take a whole war out as a document",
        responses={(200, "application/json"): {"type": "object", "description": "A campaign document."}},
    )
    def get(self, request: Any, **_kwargs: Any) -> HttpResponse:
        """Every order and every seed that is told: for its umpire while it goes on, for everybody once it is over."""
        self.require(self.seen.is_umpire or self.campaign.ended_at is not None)
        return HttpResponse(campaign_file(self.seen.war), content_type="application/json")


@extend_schema_view(list=extend_schema(summary="List the stories of a campaign"))
class Stories(OnCampaignApi, mixins.ListModelMixin, ClubRows):
    queryset = Story.objects.none()
    serializer_class = serializers.StorySerializer

    def rows(self) -> QuerySet[Story]:
        return Story.objects.shown().filter(campaign=self.campaign).select_related("by").order_by("-pk")

    @extend_schema(
        summary="Tell a story of a turn",
        request=serializers.StoryWriteSerializer,
        responses={201: serializers.StorySerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """Of a turn that is over."""
        self.require(permissions.can_tell(self.member, self.campaign))
        facts = body_of(serializers.StoryWriteSerializer, request)
        story = tell_story(self.campaign, **facts, by=self.member)
        return Response(serializers.StorySerializer(story).data, status=status.HTTP_201_CREATED)


class StoryHide(OnCampaignApi, ClubRows):
    queryset = Story.objects.none()
    serializer_class = serializers.StorySerializer

    def rows(self) -> QuerySet[Story]:
        return Story.objects.shown().filter(campaign=self.campaign).select_related("campaign", "by")

    @extend_schema(summary="Take a story off the chronicle", request=None, responses={204: None})
    def destroy(self, request: Any, *, story: int, **_kwargs: Any) -> Response:
        """It stays on file. For whoever told it, organisers and umpires."""
        row = self.row(story)
        self.require(permissions.can_hide(self.member, row))
        hide_story(row, by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)
