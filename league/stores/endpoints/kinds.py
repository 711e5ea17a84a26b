"""Kinds of kit, their packs and the usual cautions over the API."""

from __future__ import annotations

from typing import Any

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.endpoints.rows import body_of, changes_of
from league.clubs.scope import InClubApi
from league.stores import permissions
from league.stores.endpoints.rows import KindRows, code_for
from league.stores.filters import KindFilter
from league.stores.models import ItemKind, PackOffer
from league.stores.queries import CAUTIONS
from league.stores.serializers import kinds as serializers
from league.stores.services.kinds import (
    KindFacts,
    add_kind,
    bring_back_kind,
    change_kind,
    offer_pack,
    retire_kind,
    withdraw_offer,
)

__all__ = ["Cautions", "Kinds", "Packs"]


@extend_schema_view(
    list=extend_schema(summary="List the kinds of kit"), retrieve=extend_schema(summary="Read a kind of kit")
)
class Kinds(mixins.ListModelMixin, mixins.RetrieveModelMixin, KindRows):
    queryset = ItemKind.objects.none()
    serializer_class = serializers.ItemKindSerializer
    filterset_class = KindFilter

    def shown(self, pk: int, code: int = status.HTTP_200_OK) -> Response:
        return Response(serializers.ItemKindSerializer(self.row(pk)).data, status=code)

    @extend_schema(
        summary="Describe a new kind of kit",
        request=serializers.KindWriteSerializer,
        responses={201: serializers.ItemKindSerializer, 200: serializers.ItemKindSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """Any member may own something that the list does not know yet."""
        self.require(permissions.can_add_kind(self.member, self.club))
        data = body_of(serializers.KindWriteSerializer, request)
        code = code_for(ItemKind, data["submission"])
        facts = serializers.kind_facts(data)
        kind = add_kind(self.club, facts=facts, key=data["key"], submission=data["submission"], by=self.member)
        return self.shown(kind.pk, code)

    @extend_schema(
        summary="Describe a kind of kit anew",
        request=serializers.KindChangeSerializer,
        responses=serializers.ItemKindSerializer,
    )
    def partial_update(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """For those who keep the stores."""
        kind = self.row(pk)
        self.require(permissions.can_keep_stores(self.member, self.club))
        current = {name: getattr(kind, name) for name in KindFacts.__slots__}
        data = changes_of(serializers.KindChangeSerializer, request, current)
        change_kind(kind, facts=serializers.kind_facts(data), by=self.member)
        return self.shown(pk)

    @extend_schema(summary="Take a kind off the list", request=None, responses=serializers.ItemKindSerializer)
    def retire(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """What there is of it stays, with its record. For those who keep the stores."""
        retire_kind(self.row(pk), by=self.member)
        return self.shown(pk)

    @extend_schema(summary="Put a kind on the list again", request=None, responses=serializers.ItemKindSerializer)
    def bring_back(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """For those who keep the stores."""
        bring_back_kind(self.row(pk), by=self.member)
        return self.shown(pk)


class Packs(KindRows):
    """The packs a kind is sold in."""

    queryset = ItemKind.objects.none()
    serializer_class = serializers.PackOfferSerializer

    @extend_schema(
        summary="Note a pack that a kind is sold in",
        request=serializers.PackWriteSerializer,
        responses={201: serializers.PackOfferSerializer},
    )
    def create(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """The list of what to buy reckons with it. For those who keep the stores."""
        kind = self.row(pk)
        self.require(permissions.can_keep_stores(self.member, self.club))
        made = offer_pack(kind, **body_of(serializers.PackWriteSerializer, request), by=self.member)
        return Response(serializers.PackOfferSerializer(made).data, status=status.HTTP_201_CREATED)

    @extend_schema(summary="Strike a pack out", request=None, responses={204: None})
    def destroy(self, request: Any, *, pk: int, offer: int, **_kwargs: Any) -> Response:
        """For those who keep the stores."""
        packs = PackOffer.objects.filter(kind=self.row(pk)).select_related("kind__club")
        withdraw_offer(get_object_or_404(packs, pk=offer), by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)


class Cautions(InClubApi, APIView):
    @extend_schema(summary="Read the usual cautions", responses=serializers.CautionSerializer(many=True))
    def get(self, request: Any, **_kwargs: Any) -> Response:
        """By the keys that kinds name. The maker's sheet, the venue's rules and the law of the place go before them."""
        told = [{"key": key, "title": each.title, "text": each.text} for key, each in CAUTIONS.items()]
        return Response(serializers.CautionSerializer(told, many=True).data)
