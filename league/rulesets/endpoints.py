"""Rulesets and their editions over the API."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response

from league.clubs.endpoints.rows import ClubRows, body_of
from league.rulesets.filters import RulesetFilter
from league.rulesets.models import Edition, Ruleset
from league.rulesets.permissions import can_write_rules
from league.rulesets.queries import editions_of, rulesets_of
from league.rulesets.serializers import (
    EditionSerializer,
    EditionWithDocumentSerializer,
    NewRulesetSerializer,
    ReviseSerializer,
    RulesetSerializer,
    RulesetWithDocumentSerializer,
)
from league.rulesets.services.rulesets import bring_back_ruleset, create_ruleset, retire_ruleset, revise_ruleset

__all__ = ["Editions", "Rulesets"]


@extend_schema_view(list=extend_schema(summary="List the rulesets"))
class Rulesets(mixins.ListModelMixin, ClubRows):
    queryset = Ruleset.objects.none()
    serializer_class = RulesetSerializer
    filterset_class = RulesetFilter

    def rows(self) -> QuerySet[Ruleset]:
        return rulesets_of(self.club).select_related("club").order_by("name", "pk")

    def shown(self, pk: int, code: int = status.HTTP_200_OK) -> Response:
        return Response(RulesetWithDocumentSerializer(self.row(pk)).data, status=code)

    @extend_schema(summary="Read a ruleset with its document", responses=RulesetWithDocumentSerializer)
    def retrieve(self, request: Any, club: str, pk: int) -> Response:
        """The current edition."""
        return self.shown(pk)

    @extend_schema(
        summary="Describe a ruleset", request=NewRulesetSerializer, responses={201: RulesetWithDocumentSerializer}
    )
    def create(self, request: Any, club: str) -> Response:
        """For organisers and umpires. The same document once more answers with the same ruleset."""
        self.require(can_write_rules(self.member))
        ruleset = create_ruleset(self.club, **body_of(NewRulesetSerializer, request), by=self.member)
        return self.shown(ruleset.pk, status.HTTP_201_CREATED)

    @extend_schema(summary="Make the next edition", request=ReviseSerializer, responses=RulesetWithDocumentSerializer)
    def update(self, request: Any, club: str, pk: int) -> Response:
        """For organisers and umpires. A document that says what the current one says makes no new edition."""
        ruleset = self.row(pk)
        self.require(can_write_rules(self.member))
        revise_ruleset(ruleset, **body_of(ReviseSerializer, request), by=self.member)
        return self.shown(pk)

    @extend_schema(summary="Retire a ruleset", request=None, responses=RulesetWithDocumentSerializer)
    def retire(self, request: Any, club: str, pk: int) -> Response:
        """For organisers and umpires. Nothing new is begun by it; what there is stays."""
        retire_ruleset(self.row(pk), by=self.member)
        return self.shown(pk)

    @extend_schema(summary="Bring a retired ruleset back", request=None, responses=RulesetWithDocumentSerializer)
    def bring_back(self, request: Any, club: str, pk: int) -> Response:
        """For organisers and umpires."""
        bring_back_ruleset(self.row(pk), by=self.member)
        return self.shown(pk)


@extend_schema_view(list=extend_schema(summary="List the editions of a ruleset"))
class Editions(mixins.ListModelMixin, ClubRows):
    """The newest first. Editions never change."""

    queryset = Edition.objects.none()
    serializer_class = EditionSerializer

    def rows(self) -> QuerySet[Edition]:
        return editions_of(get_object_or_404(Ruleset, club=self.club, pk=self.kwargs["ruleset"]))

    @extend_schema(summary="Read an edition with its document", responses=EditionWithDocumentSerializer)
    def retrieve(self, request: Any, club: str, ruleset: int, number: int) -> Response:
        edition = get_object_or_404(Edition, ruleset__club=self.club, ruleset=ruleset, number=number)
        return Response(EditionWithDocumentSerializer(edition).data)
