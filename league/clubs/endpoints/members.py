"""The people of a club over the API."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response

from league.clubs.endpoints.rows import ClubRows, body_of, changes_of
from league.clubs.filters import MemberFilter
from league.clubs.models import Member
from league.clubs.permissions import can_change_privacy, can_remove, can_rename, can_run_club, can_see_guardian
from league.clubs.queries import members_of
from league.clubs.serializers import (
    GuestSerializer,
    JuniorSerializer,
    MemberNameSerializer,
    MemberSerializer,
    OfficesSerializer,
    PrivacySerializer,
)
from league.clubs.services.members import (
    add_guest,
    change_name,
    change_offices,
    change_privacy,
    leave_club,
    mark_junior,
)

__all__ = ["Members"]


def facts_of(member: Member, *fields: str) -> dict[str, Any]:
    return {field: getattr(member, field) for field in fields}


@extend_schema_view(
    list=extend_schema(summary="List the members and guests of a club"),
    retrieve=extend_schema(summary="Read a member or guest"),
)
class Members(mixins.ListModelMixin, mixins.RetrieveModelMixin, ClubRows):
    """The people of the club. What concerns minors is in answers to organisers only."""

    queryset = Member.objects.none()
    serializer_class = MemberSerializer
    filterset_class = MemberFilter

    def rows(self) -> QuerySet[Member]:
        return members_of(self.club).select_related("club")

    def retrieve(self, request: Any, *args: Any, **kwargs: Any) -> Response:
        return self.shown(self.row(kwargs["pk"]))

    def shown(self, member: Member, code: int = status.HTTP_200_OK) -> Response:
        return Response(self.get_serializer(member).data, status=code)

    @extend_schema(summary="Add a guest", request=GuestSerializer, responses={201: MemberSerializer})
    def create(self, request: Any, club: str) -> Response:
        """For organisers. A guest of that name who is there already is the answer."""
        self.require(can_run_club(self.member))
        facts = body_of(GuestSerializer, request)
        return self.shown(add_guest(self.club, **facts, by=self.member), status.HTTP_201_CREATED)

    @extend_schema(summary="Change a name", request=MemberNameSerializer, responses=MemberSerializer)
    def rename(self, request: Any, club: str, pk: int) -> Response:
        """One's own; organisers also change the names of others."""
        who = self.row(pk)
        self.require(can_rename(self.member, who))
        changes = changes_of(MemberNameSerializer, request, facts_of(who, "name"))
        return self.shown(change_name(who, **changes, by=self.member))

    @extend_schema(summary="Give and take offices", request=OfficesSerializer, responses=MemberSerializer)
    def offices(self, request: Any, club: str, pk: int) -> Response:
        """For organisers. The last organiser stays one."""
        who = self.row(pk)
        self.require(can_run_club(self.member))
        current = facts_of(who, "is_organiser", "is_umpire", "is_quartermaster")
        return self.shown(change_offices(who, **changes_of(OfficesSerializer, request, current), by=self.member))

    @extend_schema(summary="Mark as under 18", request=JuniorSerializer, responses=MemberSerializer)
    def junior(self, request: Any, club: str, pk: int) -> Response:
        """For organisers. Closes every public page about the person at once."""
        who = self.row(pk)
        self.require(can_see_guardian(self.member, who))
        current = facts_of(who, "is_junior", "guardian_contact")
        return self.shown(mark_junior(who, **changes_of(JuniorSerializer, request, current), by=self.member))

    @extend_schema(summary="Choose what strangers see of me", request=PrivacySerializer, responses=MemberSerializer)
    def privacy(self, request: Any, club: str, pk: int) -> Response:
        """One's own choice only; whoever is marked as under 18 stays private."""
        who = self.row(pk)
        self.require(can_change_privacy(self.member, who))
        current = facts_of(who, "shows_page", "shows_results", "shows_rosters")
        return self.shown(change_privacy(who, **changes_of(PrivacySerializer, request, current), by=self.member))

    @extend_schema(summary="Leave the club, or take somebody off the list", request=None, responses={204: None})
    def leave(self, request: Any, club: str, pk: int) -> Response:
        """Oneself; organisers also others. Games and results stay."""
        who = self.row(pk)
        self.require(can_remove(self.member, who))
        leave_club(who, by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)
