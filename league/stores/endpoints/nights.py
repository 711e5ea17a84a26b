"""A night's kit over the API: what its tables need, who brings what, and promising it."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.endpoints.rows import ClubRows, asked_of, body_of
from league.clubs.models import Member
from league.stores import permissions
from league.stores.endpoints.rows import OnNightApi, code_for
from league.stores.models import Holding, Promise
from league.stores.queries import plan_for
from league.stores.queries.buying import shopping_for
from league.stores.queries.night_page import has_borrowed
from league.stores.queries.night_parts import night_parts, packing_of
from league.stores.serializers import nights as serializers
from league.stores.services.packing import remind_of_packing
from league.stores.services.parts import take_on_part
from league.stores.services.promises import (
    mark_packed,
    mark_unpacked,
    promise_to_bring,
    say_carrying,
    withdraw_promise,
)

__all__ = ["Carry", "NightKit", "Packing", "Part", "Promises", "Reminders", "Shopping"]


class NightKit(OnNightApi, APIView):
    @extend_schema(summary="Read what a night needs and who brings it", responses=serializers.NightKitSerializer)
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """Planned anew as things stand. Each line says why it is there, each shortfall that no plan misses less."""
        return Response(serializers.NightKitSerializer(night_parts(self.night)).data)


class Packing(OnNightApi, APIView):
    @extend_schema(summary="Read what a member packs", responses=serializers.PackingListSerializer)
    def get(self, request: Any, *, member: int, **_kwargs: Any) -> Response:
        """For the member, and for those who keep the stores."""
        rows = Member.objects.visible_to(request.user).filter(club=self.club)
        who: Member = get_object_or_404(rows, pk=member)
        self.require(who == self.member or permissions.can_keep_stores(self.member, self.club))
        return Response(serializers.PackingListSerializer(packing_of(self.night, who)).data)


class Reminders(OnNightApi, APIView):
    @extend_schema(
        summary="Mail everybody what they bring", request=None, responses=serializers.RemindedSerializer(many=True)
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Once a day at most; whoever was sent a list now. For those who keep the stores."""
        sent = remind_of_packing(self.night, by=self.member)
        return Response(serializers.RemindedSerializer(sent, many=True).data)


class Shopping(OnNightApi, APIView):
    @extend_schema(
        summary="Read what to buy for a night",
        parameters=[
            OpenApiParameter(
                "budget_pence",
                {"type": "integer", "minimum": 0, "maximum": 1_000_000_000},
                description="What may be spent; no limit if left out.",
            )
        ],
        responses=serializers.ShoppingSerializer,
    )
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """Out of the packs noted with the club's kinds, for what the plan leaves missing."""
        asked = asked_of(serializers.ShoppingQuerySerializer, request)
        return Response(serializers.ShoppingSerializer(shopping_for(plan_for(self.night), **asked)).data)


class Part(OnNightApi, APIView):
    @extend_schema(
        summary="Promise all that the plan asks of me",
        request=serializers.PartSerializer,
        responses=serializers.PromiseSerializer(many=True),
    )
    def post(self, request: Any, **_kwargs: Any) -> Response:
        """Sent twice it is promised once."""
        night = self.night
        facts = body_of(serializers.PartSerializer, request)
        made = take_on_part(night, **facts, by=self.member)
        rows = promise_rows(night.pk).filter(pk__in=[each.pk for each in made])
        return Response(serializers.PromiseSerializer(rows, many=True).data)


class Carry(OnNightApi, APIView):
    @extend_schema(
        summary="Say how much somebody can carry",
        request=serializers.CarryingWriteSerializer,
        responses=serializers.CarryingSerializer,
    )
    def put(self, request: Any, **_kwargs: Any) -> Response:
        """The last word counts. For oneself; organisers also for others."""
        night = self.night
        facts = body_of(serializers.CarryingWriteSerializer, request, club=self.club)
        return Response(serializers.CarryingSerializer(say_carrying(night, **facts, by=self.member)).data)


def promise_rows(night: int) -> QuerySet[Promise]:
    rows: QuerySet[Promise] = Promise.objects.filter(night=night)
    return rows.select_related("holding__kind", "holding__club", "member").order_by("pk")


@extend_schema_view(list=extend_schema(summary="List what is promised for a night"))
class Promises(OnNightApi, mixins.ListModelMixin, ClubRows):
    """Promises that stand, of kit one may see."""

    queryset = Promise.objects.none()
    serializer_class = serializers.PromiseSerializer
    filter_backends = ()

    def rows(self) -> QuerySet[Promise]:
        seen = Holding.objects.visible_to(self.request.user)
        return promise_rows(self.night.pk).filter(withdrawn_at=None, holding__in=seen)

    def shown(self, pk: int, code: int = status.HTTP_200_OK) -> Response:
        return Response(serializers.PromiseSerializer(promise_rows(self.night.pk).get(pk=pk)).data, status=code)

    def any_row(self) -> Promise:
        """Also one that was taken back: doing that twice is doing it once."""
        seen = Holding.objects.visible_to(self.request.user)
        return get_object_or_404(promise_rows(self.night.pk).filter(holding__in=seen), pk=self.kwargs["pk"])

    @extend_schema(
        summary="Promise to bring pieces of a holding",
        request=serializers.PromiseWriteSerializer,
        responses={201: serializers.PromiseSerializer, 200: serializers.PromiseSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """Another number takes the place of what was promised before. For oneself; those who keep the stores also for
        others."""
        night = self.night
        facts = body_of(serializers.PromiseWriteSerializer, request, club=self.club, user=request.user)
        holding, who = facts.pop("holding"), facts.pop("member") or self.member
        self.require(permissions.can_promise(self.member, holding, who, has_borrowed=has_borrowed(holding, who)))
        games = {each["game"]: each["count"] for each in facts.pop("games", ())}
        code = code_for(Promise, facts["submission"])
        made = promise_to_bring(holding, night=night, member=who, games=games, **facts, by=self.member)
        return self.shown(made.pk, code)

    @extend_schema(summary="Take a promise back", request=None, responses={204: None})
    def destroy(self, request: Any, **_kwargs: Any) -> Response:
        """The plan goes on without it. For whose promise it is, and for those who keep the stores."""
        withdraw_promise(self.any_row(), by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)

    @extend_schema(summary="Mark a promise as packed", request=None, responses=serializers.PromiseSerializer)
    def pack(self, request: Any, **_kwargs: Any) -> Response:
        """For whose promise it is, and for those who keep the stores."""
        return self.shown(mark_packed(self.any_row(), by=self.member).pk)

    @extend_schema(summary="Mark a promise as not packed", request=None, responses=serializers.PromiseSerializer)
    def unpack(self, request: Any, **_kwargs: Any) -> Response:
        """For whose promise it is, and for those who keep the stores."""
        return self.shown(mark_unpacked(self.any_row(), by=self.member).pk)
