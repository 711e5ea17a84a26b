"""Invitations over the API: for organisers."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.urls import reverse
from django.utils import timezone
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response

from league.clubs.endpoints.rows import ClubRows, body_of
from league.clubs.filters import InvitationFilter
from league.clubs.models import Invitation
from league.clubs.permissions import can_run_club
from league.clubs.queries import invitations_of
from league.clubs.serializers import InvitationSerializer, InvitedSerializer, InviteSerializer
from league.clubs.services.invitations import invite, revoke_invitation

__all__ = ["Invitations"]


@extend_schema_view(list=extend_schema(summary="List the club's invitations"))
class Invitations(mixins.ListModelMixin, ClubRows):
    """For organisers. Secrets are never listed."""

    queryset = Invitation.objects.none()
    serializer_class = InvitationSerializer
    filterset_class = InvitationFilter

    def initial(self, request: Any, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        self.require(can_run_club(self.member))

    def rows(self) -> QuerySet[Invitation]:
        return invitations_of(self.club, timezone.now())

    @extend_schema(summary="Make an invitation", request=InviteSerializer, responses={201: InvitedSerializer})
    def create(self, request: Any, club: str) -> Response:
        """The link is in this answer and never again."""
        facts = body_of(InviteSerializer, request, club=self.club)
        invitation, secret = invite(self.club, **facts, by=self.member)
        link = request.build_absolute_uri(reverse("join", kwargs={"secret": secret}))
        answer = {"id": invitation.pk, "link": link, "expires_at": invitation.expires_at}
        return Response(InvitedSerializer(answer).data, status=status.HTTP_201_CREATED)

    @extend_schema(summary="Revoke an invitation", request=None, responses={204: None})
    def destroy(self, request: Any, club: str, pk: int) -> Response:
        """Whoever joined by it stays."""
        revoke_invitation(self.row(pk), by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)
