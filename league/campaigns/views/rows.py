"""How the pages of this room reach their campaign, and through whose eyes."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.http import Http404, HttpRequest
from django.shortcuts import get_object_or_404
from django.urls import reverse

from league.battles.views.rows import Act
from league.campaigns import permissions
from league.campaigns.models import Campaign, Seat
from league.campaigns.queries.seats import seat_of
from league.campaigns.queries.seen import Seen, seen_by
from league.clubs.scope import InClub
from league.errors import Refused, Violation
from league.web import ServiceFormView

__all__ = ["CampaignAct", "CampaignForm", "OnCampaign", "OnWar"]


class OnCampaign(InClub):
    """A page about the campaign at `pk`, whether it has begun or not."""

    kwargs: dict[str, Any]
    request: HttpRequest

    @cached_property
    def campaign(self) -> Campaign:
        rows = Campaign.objects.visible_to(self.request.user).filter(club=self.club)
        found: Campaign = get_object_or_404(rows.select_related("club", "edition__ruleset"), pk=self.kwargs["pk"])
        return found

    @cached_property
    def seat(self) -> Seat | None:
        return seat_of(self.member, self.campaign)

    @property
    def judges(self) -> bool:
        return permissions.can_judge(self.member, self.campaign, self.seat)

    def path_to(self, name: str, **kwargs: Any) -> str:
        return reverse(name, kwargs={"club": self.club.slug, "pk": self.campaign.pk, **kwargs})

    def get_success_url(self) -> str:
        return self.path_to("campaign")

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(
            **{"campaign": self.campaign, "seat": self.seat, "judges": self.judges, **context}
        )


class OnWar(OnCampaign):
    """A page about a campaign that has begun; one that is drawn up still is not there."""

    @cached_property
    def campaign(self) -> Campaign:
        found: Campaign = super().campaign
        if found.started_at is None:
            raise Http404
        return found

    @cached_property
    def seen(self) -> Seen:
        return seen_by(self.campaign, self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(**{"seen": self.seen, **context})


class CampaignForm(OnWar, ServiceFormView):
    """A form of this room. A violation comes back at the field the form says it belongs to."""

    template_name = "form_page.html"

    def get_cancel_url(self) -> str:
        return self.get_success_url()

    def serve(self, form: Any) -> Any:
        """Call the one service; its result is kept as `self.result`."""
        raise NotImplementedError

    def act(self, form: Any) -> Any:
        try:
            return self.serve(form)
        except Refused as refusal:
            if hasattr(form, "place_of"):
                refusal.violations = tuple(
                    Violation(each.message, form.place_of(each.field), each.code) for each in refusal.violations
                )
            raise


class CampaignAct(OnWar, Act):
    """A button of this room."""

    def address(self) -> str:
        return self.get_success_url()
