"""Holdings, their record, their photo, and the shelves they lie on, over the API."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.http import Http404
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.parsers import MultiPartParser
from rest_framework.response import Response
from rest_framework.views import APIView

from league.clubs.endpoints.rows import body_of, changes_of
from league.clubs.scope import InClubApi
from league.stores import permissions
from league.stores.endpoints.rows import HoldingRows, code_for
from league.stores.filters import HoldingFilter
from league.stores.models import Holding, Movement, ShelfCount
from league.stores.queries.holdings_page import movements_of
from league.stores.queries.labels_page import Shelf, shelf_of
from league.stores.serializers import holdings as serializers
from league.stores.services.counts import count_shelf
from league.stores.services.holdings import (
    HoldingFacts,
    add_holding,
    bring_back_holding,
    change_holding,
    retire_holding,
)
from league.stores.services.movements import book_movement
from league.stores.services.photos import photograph_holding, remove_holding_photo

__all__ = ["HoldingPhoto", "Holdings", "Movements", "ShelfAt"]


@extend_schema_view(
    list=extend_schema(summary="List the kit of members and club"), retrieve=extend_schema(summary="Read a holding")
)
class Holdings(mixins.ListModelMixin, mixins.RetrieveModelMixin, HoldingRows):
    """What its owner keeps to themselves is there for the owner alone."""

    queryset = Holding.objects.none()
    serializer_class = serializers.HoldingSerializer
    filterset_class = HoldingFilter

    def shown(self, pk: int, code: int = status.HTTP_200_OK) -> Response:
        return Response(serializers.HoldingSerializer(self.row(pk)).data, status=code)

    @extend_schema(
        summary="Write kit down",
        request=serializers.HoldingWriteSerializer,
        responses={201: serializers.HoldingSerializer, 200: serializers.HoldingSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """One's own; those who keep the stores also the club's and that of guests."""
        data = {"owner": self.member, **body_of(serializers.HoldingWriteSerializer, request, club=self.club)}
        code = code_for(Holding, data["submission"])
        told = {name: data[name] for name in ("kind", "owner", "count", "act", "reason", "submission")}
        made = add_holding(told.pop("kind"), facts=serializers.holding_facts(data), **told, by=self.member)
        return self.shown(made.pk, code)

    @extend_schema(
        summary="Describe a holding anew",
        request=serializers.HoldingChangeSerializer,
        responses=serializers.HoldingSerializer,
    )
    def partial_update(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """Where it lies, its colour and condition, how many its owner keeps. For whoever keeps it."""
        holding = self.row(pk)
        self.require(permissions.can_keep_holding(self.member, holding))
        kept = {name: getattr(holding, name) for name in HoldingFacts.__slots__ if name != "label"}
        data = changes_of(serializers.HoldingChangeSerializer, request, {**kept, "label": ""}, club=self.club)
        change_holding(holding, facts=serializers.holding_facts(data), by=self.member)
        return self.shown(pk)

    @extend_schema(summary="Put a holding away", request=None, responses=serializers.HoldingSerializer)
    def retire(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """It keeps its record, is found no more and lends nothing. For whoever keeps it."""
        retire_holding(self.row(pk), by=self.member)
        return self.shown(pk)

    @extend_schema(summary="Take a holding out again", request=None, responses=serializers.HoldingSerializer)
    def bring_back(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """For whoever keeps it."""
        bring_back_holding(self.row(pk), by=self.member)
        return self.shown(pk)


@extend_schema_view(list=extend_schema(summary="Read the record of a holding"))
class Movements(mixins.ListModelMixin, HoldingRows):
    """The latest line first. Lines are written, never changed."""

    queryset = Movement.objects.none()
    serializer_class = serializers.MovementSerializer

    def holding(self) -> Holding:
        found: Holding = self.row(self.kwargs["pk"])
        return found

    def get_queryset(self) -> QuerySet[Any]:
        return movements_of(self.holding()) if hasattr(self, "club") else self.queryset

    @extend_schema(
        summary="Book that pieces came or went",
        request=serializers.MovementWriteSerializer,
        responses={201: serializers.MovementSerializer, 200: serializers.MovementSerializer},
    )
    def create(self, request: Any, **_kwargs: Any) -> Response:
        """Received, bought, made; used up, lost, broken, given away. For whoever keeps it."""
        holding = self.holding()
        self.require(permissions.can_keep_holding(self.member, holding))
        data = body_of(serializers.MovementWriteSerializer, request)
        code = code_for(Movement, data["submission"])
        line = book_movement(holding, **data, by=self.member)
        return Response(serializers.MovementSerializer(line).data, status=code)


class HoldingPhoto(HoldingRows):
    queryset = Holding.objects.none()
    serializer_class = serializers.HoldingSerializer
    parser_classes = [MultiPartParser]

    @extend_schema(
        summary="Keep a picture of a holding",
        request={"multipart/form-data": serializers.HoldingPhotoSerializer},
        responses=serializers.HoldingSerializer,
    )
    def create(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """It takes the place of the one before, is made smaller and loses where and when it was taken. For whoever
        keeps the holding."""
        holding = self.row(pk)
        self.require(permissions.can_keep_holding(self.member, holding))
        photograph_holding(holding, **body_of(serializers.HoldingPhotoSerializer, request), by=self.member)
        return Response(serializers.HoldingSerializer(self.row(pk)).data)

    @extend_schema(summary="Take the picture of a holding away", request=None, responses={204: None})
    def destroy(self, request: Any, *, pk: int, **_kwargs: Any) -> Response:
        """For good. For whoever keeps the holding."""
        remove_holding_photo(self.row(pk), by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)


class ShelfAt(InClubApi, APIView):
    """What lies under a printed label."""

    request: Any

    def shelf(self, label: str) -> Shelf:
        shelf = shelf_of(self.club, label, self.member, self.request.user)
        if shelf is None:
            raise Http404
        return shelf

    @extend_schema(summary="Read what lies under a label", responses=serializers.ShelfLineSerializer(many=True))
    def get(self, request: Any, *, label: str, **_kwargs: Any) -> Response:
        """As far as one sees it."""
        return Response(serializers.ShelfLineSerializer(self.shelf(label).lines, many=True).data)

    @extend_schema(
        summary="Write a count of a shelf down",
        request=serializers.CountWriteSerializer,
        responses={201: serializers.ShelfCountSerializer, 200: serializers.ShelfCountSerializer},
    )
    def post(self, request: Any, *, label: str, **_kwargs: Any) -> Response:
        """Each difference is a line of its holding's record. The club's shelves are anybody's to count, a member's own
        are that member's."""
        shelf = self.shelf(label)
        self.require(shelf.may_count)
        data = body_of(serializers.CountWriteSerializer, request)
        code = code_for(ShelfCount, data["submission"])
        counted = {each["holding"]: each["pieces"] for each in data.pop("counted")}
        made = count_shelf(self.club, label=shelf.label.code, counted=counted, **data, by=self.member)
        return Response(serializers.ShelfCountSerializer(made).data, status=code)
