"""What a closed turn leaves on the rosters' own records: recruits and leavers, and battles without a game."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime

from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Clash, RollCall, Secret
from league.campaigns.queries.fights import rosters_by_force
from league.campaigns.queries.war import War
from league.clubs.models import Member
from league.engines import strength, war
from league.rosters.models import Casualty, Roster
from league.rosters.services.musters import MusterLine, record_muster, set_aside_musters
from league.rosters.services.records import (
    CasualtyLine,
    lock_rosters,
    record_engagement,
    record_rolls,
    set_aside,
    take_snapshot,
)

__all__ = ["call_the_rolls", "record_clashes"]


def record_clashes(campaign: Campaign, now: War, *, turn: int, by: Member, at: datetime) -> None:
    """Put the battles of a closed turn that were not played as games on the record of the rosters in them.

    Done when the turn is over, since the dice of a simulated battle name their seed.
    """
    rosters = rosters_by_force(campaign)
    state = now.states[turn]
    lock_rosters(roster.pk for roster in rosters.values())
    for battle in state.battles:
        outcome = battle.outcome
        if outcome is None or outcome.source == "conceded" or outcome.reference:
            continue
        told = {each.force: each for each in outcome.forces}
        for force in battle.forces:
            if force in rosters:
                part = told.get(force, war.ForceOutcome(force=force))
                _record_clash(campaign, now, rosters[force], battle, part, turn=turn, by=by, at=at)


def _record_clash(
    campaign: Campaign,
    now: War,
    roster: Roster,
    battle: war.Battle,
    part: war.ForceOutcome,
    *,
    turn: int,
    by: Member,
    at: datetime,
) -> None:
    outcome = battle.outcome
    if outcome is None:
        return
    faction = now.faction_of(part.force)
    won = bool(outcome.winner) and not now.began.hostile(faction, outcome.winner)
    engagement = record_engagement(
        roster,
        snapshot=take_snapshot(roster, edition=campaign.edition, by=by, at=at),
        title=title_of(campaign, turn),
        fought_on=timezone.localdate(at),
        outcome="draw" if not outcome.winner else "win" if won else "loss",
        casualties=[
            CasualtyLine(
                unit_id=int(line.unit_id),
                figures_lost=line.figures_lost,
                destroyed=line.destroyed,
                routed=line.routed,
            )
            for line in part.casualties
        ],
        at=at,
    )
    Clash.objects.create(campaign=campaign, turn=turn, battle=battle.id, engagement=engagement)
    _record_dice(campaign, engagement.pk, part.casualties, outcome, part.force, turn=turn, by=by, at=at)


def _record_dice(
    campaign: Campaign,
    engagement_id: int,
    lines: Sequence[strength.Casualty],
    outcome: war.BattleOutcome,
    force: str,
    *,
    turn: int,
    by: Member,
    at: datetime,
) -> None:
    seed = ""
    if outcome.label:
        seed = Secret.objects.get(campaign=campaign, turn=turn).seed
    rows = {row.unit_id: row for row in Casualty.objects.filter(engagement=engagement_id)}
    for line in lines:
        if line.rolls:
            unit = int(line.unit_id)
            record_rolls(
                rows[unit],
                source="drawn" if seed else "table",
                results=line.rolls,
                seed=seed,
                label=f"{outcome.label}/{force}/{unit}" if seed else "",
                by=by,
                at=at,
            )


def title_of(campaign: Campaign, turn: int) -> str:
    return _("%(campaign)s, turn %(turn)s") % {"campaign": campaign.name, "turn": turn}


def call_the_rolls(campaign: Campaign, now: War, *, since: int, at: datetime) -> None:
    """Keep what the aftermath of each closed turn did to the units on the rosters' records: recruits and leavers.

    After a war was reckoned anew, roll-calls that no longer hold are set aside and the right ones take their places.
    """
    rosters = rosters_by_force(campaign)
    lock_rosters(roster.pk for roster in rosters.values())
    for state in now.states:
        if state.turn >= max(since, 1) and state.phase == "closed":
            _call_the_roll(campaign, rosters, state, at=at)


def _call_the_roll(campaign: Campaign, rosters: dict[str, Roster], state: war.TurnState, *, at: datetime) -> None:
    wanted: defaultdict[str, dict[int, tuple[int, int]]] = defaultdict(dict)
    for force, muster in state.musters:
        unit = int(muster.unit_id)
        joined, left = wanted[force].get(unit, (0, 0))
        wanted[force][unit] = (joined + muster.joined, left + muster.left)
    calls = RollCall.objects.filter(campaign=campaign, turn=state.turn, muster__set_aside_at=None)
    standing: defaultdict[int, list[RollCall]] = defaultdict(list)
    for call in calls.select_related("muster__unit").order_by("pk"):
        standing[call.muster.unit.roster_id].append(call)
    for force, roster in rosters.items():
        there = [call.muster for call in standing[roster.pk]]
        if {each.unit_id: (each.joined, each.left) for each in there} == wanted[force]:
            continue
        place = min((each.sequence for each in there), default=None)
        set_aside_musters(there, at=at)
        if not wanted[force]:
            continue
        rows = record_muster(
            roster,
            title=title_of(campaign, state.turn),
            held_on=timezone.localdate(at),
            lines=[
                MusterLine(unit_id=unit, joined=joined, left=left)
                for unit, (joined, left) in sorted(wanted[force].items())
            ],
            sequence=place,
            at=at,
        )
        RollCall.objects.bulk_create(RollCall(campaign=campaign, turn=state.turn, muster=row) for row in rows)


def set_clashes_aside(campaign: Campaign, now: War, *, at: datetime) -> None:
    """Battles without a game that the war, reckoned anew, no longer knows: they never happened."""
    fought = {each.id for state in now.states for each in state.battles if each.outcome is not None}
    clashes = Clash.objects.filter(campaign=campaign, engagement__set_aside_at=None).select_related("engagement")
    for clash in clashes:
        if clash.battle not in fought:
            set_aside(clash.engagement, at=at)
