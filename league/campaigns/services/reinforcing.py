"""A roster that enters a war already under way: a ruling of the umpire, and the roster behind it."""

from __future__ import annotations

from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Enlisted, Fact
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused, judged
from league.campaigns.services.drawing_up import free_key
from league.campaigns.services.enlisting import faults_of_numbers, faults_of_roster, free_name, units_as_listed
from league.campaigns.services.facts import add_fact
from league.campaigns.services.outside import bring_outside_battles
from league.campaigns.services.rulings import faults_of_reason
from league.clubs.models import Member
from league.clubs.services.submissions import digest_of, earlier
from league.engines import war
from league.errors import Violation
from league.rosters.models import Muster, Roster
from league.rosters.services.records import lock_rosters
from league.rulesets.queries import rules_of

__all__ = ["reinforce"]


@transaction.atomic
def reinforce(
    campaign: Campaign,
    *,
    turn: int,
    roster: Roster,
    faction: str,
    region: str,
    need: int,
    pace: int = 1,
    reason: str,
    submission: UUID,
    by: Member,
) -> Fact:
    """Let a roster enter the war in the turn that is being planned, with the scars of its battles so far; it can be given
    orders at once.

    Raises:
        NotYoursToDo, CampaignMovedOn: also once the orders of the turn are revealed.
        CampaignRefused: with everything that is wrong.
        SubmissionReused
    """
    reason = reason.strip()
    campaign = judged(campaign, by=by)
    told = {"roster": roster.pk, "faction": faction, "region": region, "need": need, "pace": pace, "reason": reason}
    digest = digest_of({"campaign": campaign.pk, "by": by.pk, "turn": turn, **told})
    if again := earlier(Fact, submission, digest):
        return again
    now = war_of(campaign)
    if now.turn != turn or now.now.phase != "orders":
        raise CampaignMovedOn(_("A force enters while orders are being given. Look at the campaign again."))
    lock_rosters([roster.pk])
    faults = [
        *faults_of_reason(reason),
        *faults_of_roster(campaign, roster, rules_of(campaign.edition)),
        *faults_of_record(campaign, roster),
        *faults_of_places(now, faction, region),
        *faults_of_numbers(need, pace),
    ]
    if faults:
        raise CampaignRefused(faults)
    force = war.Force(
        key=free_key(roster.name, now.now.forces, "force"),
        name=free_name(roster.name, {each.name for each in now.now.forces.values()}),
        faction=faction,
        region=region,
        units=units_as_listed(roster),
        need=need,
        pace=pace,
    )
    at = timezone.now()
    ruling = war.Ruling(
        id=0, sequence=0, turn=turn, reason=reason, effects=(war.RaiseForce(force=force),), phase="orders"
    )
    fact = add_fact(campaign, ruling, by=by, at=at, submission=submission, digest=digest)
    Enlisted.objects.create(campaign=campaign, force=force.key, roster=roster, at=at)
    bring_outside_battles(campaign, war_of(campaign), by=by, at=at)
    log_act(campaign.club, "force_raised", campaign, by=by, at=at, name=force.name)
    return fact


def faults_of_record(campaign: Campaign, roster: Roster) -> list[Violation]:
    """A roster fights in a war once; and one with another war's roll-calls on its record stays out."""
    faults = []
    if Enlisted.objects.filter(campaign=campaign, roster=roster).exists():
        words = _("%(roster)s fights in this war already.")
        faults.append(Violation(words % {"roster": roster.name}, "roster", "enlisted"))
    elif Muster.objects.standing().filter(unit__roster=roster).exists():
        words = _("%(roster)s has taken in recruits or lost men in another war. Make a copy of it and enlist the copy.")
        faults.append(Violation(words % {"roster": roster.name}, "roster", "mustered"))
    return faults


def faults_of_places(now: War, faction: str, region: str) -> list[Violation]:
    """By the map as it stands today, which may have been edited since the war began."""
    faults = []
    if now.began.faction(faction) is None:
        faults.append(Violation(_("There is no such faction."), "faction", "unknown_faction"))
    if now.now.map.region(region) is None:
        faults.append(Violation(_("The map has no such region."), "region", "unknown_region"))
    return faults
