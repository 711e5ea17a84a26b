"""What every act on a campaign begins with: the campaign as it is, and who asks."""

from __future__ import annotations

from django.utils.translation import gettext as _

from league.campaigns.models import Campaign
from league.campaigns.permissions import can_judge
from league.campaigns.queries.seats import seat_of
from league.clubs.models import Member
from league.errors import NotYoursToDo, Refused

__all__ = ["CampaignMovedOn", "CampaignRefused", "judged", "lock_campaign", "under_way"]


class CampaignRefused(Refused):
    """The facts of a campaign are not in order."""


class CampaignMovedOn(Refused):
    """The campaign has gone on since: it has started or ended, or its turn is another by now."""

    status = 409


def lock_campaign(campaign: Campaign) -> Campaign:
    """The campaign as it is now, kept by this transaction until its end (where the database locks rows).

    Every act that writes a fact holds it, so that facts have one order.
    """
    locked: Campaign = (
        Campaign.objects.select_for_update(of=("self",), no_key=True)
        .select_related("club", "edition__ruleset")
        .get(pk=campaign.pk)
    )
    return locked


def under_way(campaign: Campaign) -> Campaign:
    """The campaign, locked, if it has started and not ended.

    Raises:
        CampaignMovedOn
    """
    current = lock_campaign(campaign)
    if current.started_at is None:
        raise CampaignMovedOn(_("The campaign has not started yet."))
    if current.ended_at is not None:
        raise CampaignMovedOn(_("The campaign is over."))
    return current


def judged(campaign: Campaign, *, by: Member) -> Campaign:
    """The campaign under way, locked, for an act of its umpire.

    Raises:
        NotYoursToDo, CampaignMovedOn
    """
    if not can_judge(by, campaign, seat_of(by, campaign)):
        raise NotYoursToDo(_("Only the club's umpires who lead no faction in this campaign do this."))
    return under_way(campaign)
