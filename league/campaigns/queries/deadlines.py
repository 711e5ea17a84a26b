"""When a turn's orders are due."""

from __future__ import annotations

from league.campaigns.models import Campaign, Deadline

__all__ = ["deadline_of"]


def deadline_of(campaign: Campaign, turn: int) -> Deadline | None:
    """The last word on it, or None: there is no deadline, the umpire reveals."""
    return Deadline.objects.filter(campaign=campaign, turn=turn).select_related("set_by").order_by("-pk").first()
