"""Revealing a turn's orders: all together, then the map says where battles are."""

from __future__ import annotations

from datetime import datetime

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignMovedOn
from league.campaigns.services.facts import add_fact
from league.campaigns.services.fights import book_battles
from league.campaigns.services.outside import bring_outside_battles
from league.clubs.models import Member
from league.engines import war

__all__ = ["carry_out_orders"]


def carry_out_orders(campaign: Campaign, *, by: Member, at: datetime) -> War:
    """Reveal the orders of the turn being planned and book its battles. The caller holds the campaign and checked who
    may.

    Raises:
        CampaignMovedOn: they are revealed already.
    """
    before = war_of(campaign)
    if before.now.phase != "orders":
        raise CampaignMovedOn(_("The orders of turn %(turn)s are revealed already.") % {"turn": before.turn})
    bring_outside_battles(campaign, before, by=by, at=at)
    try:
        with transaction.atomic():
            add_fact(campaign, war.Revealed(id=0, sequence=0, turn=before.turn), by=by, at=at)
    except IntegrityError as failure:
        raise CampaignMovedOn(
            _("The orders of turn %(turn)s are revealed already.") % {"turn": before.turn}
        ) from failure
    log_act(campaign.club, "orders_revealed", campaign, by=by, at=at, turn=before.turn)
    after = war_of(campaign)
    book_battles(campaign, after, by=by, at=at)
    return after
