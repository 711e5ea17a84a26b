"""What a roster can be written by and for whom."""

from __future__ import annotations

from django.db.models import QuerySet

from league.clubs.models import Club, Member
from league.clubs.permissions import can_run_club
from league.clubs.queries import members_of
from league.rulesets.models import Ruleset
from league.rulesets.queries import rulesets_of

__all__ = ["owners_for", "rulesets_in_use"]


def owners_for(member: Member) -> QuerySet[Member]:
    """For whom a member may write rosters: organisers for everyone in the club, others for themselves."""
    people = members_of(member.club)
    return people if can_run_club(member) else people.filter(pk=member.pk)


def rulesets_in_use(club: Club) -> QuerySet[Ruleset]:
    return rulesets_of(club, with_retired=False).order_by("name", "pk")
