"""How the pages of the drawing up reach their campaign."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from league.campaigns import permissions
from league.campaigns.queries.drawing_up import drawn_of
from league.campaigns.views.rows import OnCampaign
from league.engines import war
from league.errors import Refused, Violation
from league.web import ServiceFormView

__all__ = ["DraftForm", "OnDraft", "Placed"]


class Placed(ServiceFormView):
    """A form that may know, by `place_of`, at which of its fields a violation belongs."""

    template_name = "form_page.html"

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


class OnDraft(OnCampaign):
    """A page about a campaign that is drawn up still; once it has started it leads to the campaign itself."""

    def allows(self) -> bool:
        return permissions.can_draw_up(self.member, self.campaign, self.seat)

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if self.campaign.started_at is not None:
            return redirect(self.path_to("campaign"))
        return super().get(request, *args, **kwargs)  # type: ignore[misc,no-any-return]  # the page it is mixed into

    @cached_property
    def began(self) -> war.Campaign:
        return drawn_of(self.campaign)

    def get_success_url(self) -> str:
        return self.path_to("campaign-draft")


class DraftForm(OnDraft, Placed):
    """A form of the drawing up; `version` comes along so that two people at it do not undo each other."""

    def get_initial(self) -> dict[str, Any]:
        return {**super().get_initial(), "version": self.campaign.version}

    def get_cancel_url(self) -> str:
        return self.get_success_url()
