"""Which battles the rosters of a campaign fought that the war does not know of yet."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from league.campaigns.models import Campaign, Clash, Enlisted, Fight
from league.campaigns.queries.war import War
from league.engines import strength, war
from league.rosters.models import Engagement
from league.rosters.queries.fights import fights_of

__all__ = ["engagements_outside", "forces_by_roster", "outside_battles"]


def forces_by_roster(campaign: Campaign) -> dict[int, str]:
    return dict(Enlisted.objects.filter(campaign=campaign).order_by("pk").values_list("roster_id", "force"))


def outside_battles(now: War) -> list[war.OutsideBattle]:
    """Battles outside the war that it does not know of yet. One that was corrected since takes the place of what is
    known: that is for `queries.corrections`."""
    known = {
        (each.force, each.engagement.sequence)
        for each in war.in_force(now.facts)
        if isinstance(each, war.OutsideBattle)
    }
    return [each for each in engagements_outside(now) if (each.force, each.engagement.sequence) not in known]


def engagements_outside(now: War) -> list[war.OutsideBattle]:
    """Standing engagements of enlisted rosters that are no battle of the war's, in the order of each roster's record,
    as facts of the turn being played."""
    forces = forces_by_roster(now.campaign)
    rows = (
        Engagement.objects.standing()
        .filter(roster__in=forces)
        .exclude(result__report__game__fight__in=Fight.objects.filter(campaign=now.campaign))
        .exclude(clash__in=Clash.objects.filter(campaign=now.campaign))
        .select_related("snapshot")
        .order_by("roster_id", "sequence")
    )
    engagements = list(rows)
    fights = fights_of(engagements)
    return [
        war.OutsideBattle(
            id=0,
            sequence=0,
            turn=max(now.turn, 1),
            force=forces[row.roster_id],
            engagement=_slim(fights[row.pk], now.began, forces[row.roster_id]),
        )
        for row in engagements
    ]


def _slim(fought: strength.Engagement, began: war.Campaign, force: str) -> strength.Engagement:
    """Without what the campaign says already: its ruleset, and its units as they were written down."""
    listed: defaultdict[str, dict[object, strength.RosterUnit]] = defaultdict(dict)
    for each in began.forces:
        listed[each.key] = {unit.id: unit for unit in each.units}
    kept = {key: unit for key, unit in fought.listed.items() if listed[force].get(key) != unit}
    ruleset = None if fought.ruleset == began.ruleset else fought.ruleset
    return replace(fought, listed=kept, ruleset=ruleset)
