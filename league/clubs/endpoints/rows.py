"""What the club room's endpoints share: rows of one club, bodies merged into what stands."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from rest_framework.serializers import Serializer
from rest_framework.viewsets import GenericViewSet

from league.clubs.scope import InClubApi

__all__ = ["ClubRows", "asked_of", "body_of", "changes_of"]


def body_of(shape: type[Serializer], request: Any, **context: Any) -> dict[str, Any]:
    """The body's facts, or 400 with everything that is wrong with it."""
    body = shape(data=request.data, context=context)
    body.is_valid(raise_exception=True)
    return dict(body.validated_data)


def asked_of(shape: type[Serializer], request: Any) -> dict[str, Any]:
    """What the query string asks for, or 400 with everything that is wrong with it."""
    query = shape(data=request.query_params.dict())
    query.is_valid(raise_exception=True)
    return dict(query.validated_data)


def changes_of(shape: type[Serializer], request: Any, current: dict[str, Any], **context: Any) -> dict[str, Any]:
    """What stands, with the facts the body changes laid over it."""
    body = shape(data=request.data, partial=True, context=context)
    body.is_valid(raise_exception=True)
    return {**current, **body.validated_data}


class ClubRows(InClubApi, GenericViewSet):
    """Rows of the club the address names. `rows` is asked only once the club is known."""

    def rows(self) -> QuerySet[Any]:
        raise NotImplementedError

    def get_queryset(self) -> QuerySet[Any]:
        # The description of the API asks for the queryset outside any club.
        return self.rows() if hasattr(self, "club") else super().get_queryset()

    def row(self, pk: int) -> Any:
        return get_object_or_404(self.rows(), pk=pk)

    def get_serializer_context(self) -> dict[str, Any]:
        return {**super().get_serializer_context(), "member": getattr(self, "member", None)}
