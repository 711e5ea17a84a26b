"""The start of a war: nothing of how it began changes any more."""

from __future__ import annotations

from dataclasses import replace

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign
from league.campaigns.permissions import can_draw_up
from league.campaigns.queries.drawing_up import drawn_of, missing
from league.campaigns.queries.fights import rosters_by_force
from league.campaigns.queries.seats import seat_of
from league.campaigns.queries.war import war_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignRefused, lock_campaign
from league.campaigns.services.drawing_up import checked
from league.campaigns.services.enlisting import faults_of_roster, units_as_listed
from league.campaigns.services.facts import open_turn
from league.campaigns.services.outside import bring_outside_battles
from league.clubs.models import Member
from league.errors import NotYoursToDo, Violation
from league.rosters.models import Muster, Roster
from league.rosters.services.records import lock_rosters
from league.rulesets.queries import rules_of

__all__ = ["start_campaign"]


@transaction.atomic
def start_campaign(campaign: Campaign, *, by: Member) -> Campaign:
    """Begin turn 1: fix the seed of its dice, and bring along the scars of every roster's earlier battles.

    Units are written down as their rosters have them at this moment. Starting twice is starting once.

    Raises:
        NotYoursToDo
        CampaignRefused: with everything that is missing.
    """
    if not can_draw_up(by, campaign, seat_of(by, campaign)):
        raise NotYoursToDo(_("A campaign is started by its founder, by organisers and by umpires who lead no faction."))
    current = lock_campaign(campaign)
    if current.started_at is not None:
        return current
    rosters = rosters_by_force(current)
    lock_rosters(roster.pk for roster in rosters.values())
    if faults := [*missing(current), *_of_rosters(current, rosters)]:
        raise CampaignRefused(faults)
    began = drawn_of(current)
    mustered = tuple(
        replace(each, units=units_as_listed(rosters[each.key])) if each.key in rosters else each
        for each in began.forces
    )
    now = timezone.now()
    current.document = checked(replace(began, forces=mustered))
    current.started_at = now
    current.save(update_fields=["document", "started_at"])
    open_turn(current, turn=1, by=by, at=now)
    bring_outside_battles(current, war_of(current), by=by, at=now)
    log_act(current.club, "campaign_started", current, by=by, at=now, name=current.name)
    return current


def _of_rosters(campaign: Campaign, rosters: dict[str, Roster]) -> list[Violation]:
    """What is wrong with the rosters today. One with roll-calls of another war on its record stays out: they stand in
    an order with its battles which this war could not tell."""
    rules = rules_of(campaign.edition)
    faults = [each for roster in rosters.values() for each in faults_of_roster(campaign, roster, rules)]
    called = Muster.objects.standing().filter(unit__roster__in=[roster.pk for roster in rosters.values()])
    names = sorted(set(called.values_list("unit__roster__name", flat=True)))
    words = _("%(roster)s has taken in recruits or lost men in another war. Make a copy of it and enlist the copy.")
    faults += [Violation(words % {"roster": name}, "forces", "mustered") for name in names]
    forces = {each.key: each.name for each in drawn_of(campaign).forces}
    words = _("%(force)s has no roster.")
    faults += [
        Violation(words % {"force": name}, "forces", "no_roster") for key, name in forces.items() if key not in rosters
    ]
    return faults
