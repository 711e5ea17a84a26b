"""The campaigns of a club, where a war stands, and a faction's orders."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied
from django.utils import timezone
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.campaigns import permissions
from league.campaigns.forms.orders import OrdersForm
from league.campaigns.models import Fact
from league.campaigns.queries.orders_page import desk_of
from league.campaigns.queries.play_page import campaigns_of, front_of
from league.campaigns.queries.seen import seen_by
from league.campaigns.services.orders import give_orders
from league.campaigns.services.turns import reveal_what_is_due
from league.campaigns.views.rows import CampaignAct, CampaignForm, OnCampaign
from league.clubs.scope import InClub

__all__ = ["CampaignPage", "CampaignsPage", "Orders", "RevealDue"]


class CampaignsPage(InClub, TemplateView):
    template_name = "campaigns/campaigns.html"
    is_open = True

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(
            campaigns=campaigns_of(self.club, self.request.user),
            can_found=permissions.can_found(self.member),
            title=_now("Campaigns"),
            **context,
        )


class CampaignPage(OnCampaign, TemplateView):
    """Where the war stands, as the reader may see it; of one that has not begun, what is known of it."""

    is_open = True

    def get_template_names(self) -> list[str]:
        return ["campaigns/campaign.html" if self.campaign.started_at else "campaigns/to_begin.html"]

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        told: dict[str, Any] = {"title": self.campaign.name}
        if self.campaign.started_at:
            seen = seen_by(self.campaign, self.member)
            front = front_of(seen)
            told |= {
                "seen": seen,
                "front": front,
                "drawing": seen.drawing(front.view) if front else None,
                "is_due": bool(front and front.deadline and front.deadline.due_at <= timezone.now()),
            }
        else:
            told["can_draw_up"] = permissions.can_draw_up(self.member, self.campaign, self.seat)
        return super().get_context_data(**told, **context)


class Orders(CampaignForm):
    """A faction's orders for the turn being planned: seen and given by those who lead it alone."""

    template_name = "campaigns/orders.html"
    form_class = OrdersForm
    title = _("Orders")
    button = _("Give these orders")
    done_message = _("The orders are given. Until they are revealed you can change them.")

    def allows(self) -> bool:
        return self.seat is not None

    @property
    def faction(self) -> str:
        if self.seat is None:
            raise PermissionDenied
        return self.seat.faction

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "desk": desk_of(self.seen, self.faction)}

    def serve(self, form: OrdersForm) -> Fact:
        return give_orders(
            self.campaign,
            faction=self.faction,
            turn=self.seen.war.turn,
            orders=form.orders(),
            importance=form.importance(),
            submission=form.cleaned_data["submission"],
            by=self.member,  # type: ignore[arg-type]  # whoever has a seat is a member
        )

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        view = self.seen.view()
        drawing = self.seen.drawing(view) if view else None
        takes = self.seen.war.now.phase == "orders" and self.campaign.ended_at is None
        return super().get_context_data(drawing=drawing, takes_orders=takes, **context)


class RevealDue(CampaignAct):
    """The deadline has passed: any member may have the orders revealed."""

    done_message = _("The orders are revealed.")

    def allows(self) -> bool:
        return self.member is not None

    def act(self) -> bool:
        return reveal_what_is_due(self.campaign, now=timezone.now())
