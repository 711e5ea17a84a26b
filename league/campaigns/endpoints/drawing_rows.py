"""How the methods of the drawing up reach their campaign."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar

from django.shortcuts import get_object_or_404

from league.campaigns import permissions
from league.campaigns.models import Campaign, Seat
from league.campaigns.queries.drawing_up import Step, drawn_of, steps_of
from league.campaigns.queries.seats import seat_of
from league.campaigns.services.campaigns import CampaignRefused
from league.campaigns.services.drawing_up import refuse_document
from league.clubs.scope import InClubApi
from league.engines import war
from league.engines.documents.reading import BadDocument

__all__ = ["Draft", "OnCampaignApi", "OnDraftApi", "read"]

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Draft:
    campaign: Campaign
    steps: tuple[Step, ...]


class OnCampaignApi(InClubApi):
    """Under a campaign of the club, at `campaign` in the address."""

    kwargs: dict[str, Any]
    request: Any
    campaign_in = "campaign"

    @cached_property
    def campaign(self) -> Campaign:
        rows = Campaign.objects.visible_to(self.request.user).filter(club=self.club)
        found: Campaign = get_object_or_404(
            rows.select_related("club", "edition__ruleset"), pk=self.kwargs[self.campaign_in]
        )
        return found

    @cached_property
    def seat(self) -> Seat | None:
        return seat_of(self.member, self.campaign)

    def require_drawing(self) -> None:
        self.require(permissions.can_draw_up(self.member, self.campaign, self.seat))


class OnDraftApi(OnCampaignApi):
    """Under a campaign that is drawn up, at `draft`; for those who draw it up."""

    campaign_in = "draft"

    def initial(self, request: Any, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        self.require_drawing()

    @property
    def began(self) -> war.Campaign:
        return drawn_of(self.campaign)

    def draft(self, campaign: Campaign | None = None) -> Draft:
        shown = campaign or self.campaign
        return Draft(shown, steps_of(shown))


def read(reader: Callable[[Any], Value], data: Any, within: str) -> Value:
    """What a reader of documents makes of it; its faults become a refusal with all of them."""
    try:
        return reader(data)
    except BadDocument as failure:
        raise CampaignRefused(refuse_document(failure.faults, within)) from None
