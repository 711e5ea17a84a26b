"""How the methods of this room reach their campaign, and through whose eyes."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.http import Http404
from django.shortcuts import get_object_or_404

from league.campaigns import permissions
from league.campaigns.models import Campaign
from league.campaigns.queries.seats import seat_of
from league.campaigns.queries.seen import Seen, seen_by
from league.clubs.scope import InClubApi
from league.engines.documents.reading import BadDocument
from league.errors import Refused, Violation

__all__ = ["OnCampaignApi", "OnWarApi", "refusal_of"]


class OnCampaignApi(InClubApi):
    """Under a campaign of the club, at `campaign` in the address."""

    kwargs: dict[str, Any]
    request: Any

    @cached_property
    def campaign(self) -> Campaign:
        rows = Campaign.objects.visible_to(self.request.user).filter(club=self.club)
        found: Campaign = get_object_or_404(rows.select_related("club", "edition__ruleset"), pk=self.kwargs["campaign"])
        return found


class OnWarApi(OnCampaignApi):
    """Of a campaign that has begun."""

    @cached_property
    def campaign(self) -> Campaign:
        found: Campaign = super().campaign
        if found.started_at is None:
            raise Http404
        return found

    @cached_property
    def seen(self) -> Seen:
        return seen_by(self.campaign, self.member)

    def require_umpire(self) -> None:
        self.require(permissions.can_judge(self.member, self.campaign, seat_of(self.member, self.campaign)))


def refusal_of(failure: BadDocument, field: str) -> Refused:
    """Every fault of a part of a document, at its place."""
    return Refused(
        Violation(each.text, f"{field}{each.place.replace('/', '.')}", "document") for each in failure.faults
    )
