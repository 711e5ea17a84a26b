"""Battles that rosters of a campaign fought outside it: their scars come along."""

from __future__ import annotations

from datetime import datetime

from league.campaigns.models import Campaign
from league.campaigns.queries.outside import outside_battles
from league.campaigns.queries.war import War
from league.campaigns.services.facts import add_fact
from league.clubs.models import Member

__all__ = ["bring_outside_battles"]


def bring_outside_battles(campaign: Campaign, now: War, *, by: Member, at: datetime) -> None:
    """Write down what enlisted rosters fought elsewhere since anybody last looked.

    What a roster fought after this turn's own battle waits for the next turn, so that both records have one order.
    """
    fought = {force: place for told in now.told.values() for force, place in told.places.items()}
    for each in outside_battles(now):
        if each.engagement.sequence < fought.get(each.force, each.engagement.sequence + 1):
            add_fact(campaign, each, by=by, at=at)
