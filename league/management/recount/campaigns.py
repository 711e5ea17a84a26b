from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from league.campaigns.models import Campaign, RollCall
from league.campaigns.queries.corrections import corrections_of
from league.campaigns.queries.fights import rosters_by_force
from league.campaigns.queries.outside import outside_battles
from league.campaigns.queries.war import War, war_of
from league.engines import war
from league.engines.war.dice import check, check_seeds
from league.rosters.queries.states import states_of_rosters

__all__ = ["dice", "replays", "roll_calls", "rosters", "stocks"]


def _wars() -> Iterator[War]:
    for campaign in Campaign.objects.filter(started_at__isnull=False).order_by("pk"):
        yield war_of(campaign)


def replays() -> Iterator[str]:
    """A replay of all facts from nothing gives the states the pages show."""
    for now in _wars():
        if war.replay(now.began, (*now.facts, *now.reported)) != now.states:
            yield f"{now.campaign} does not come out the same when it is replayed"


def stocks() -> Iterator[str]:
    """Nothing appears and nothing vanishes: every stock is the sum of the lines of its book."""
    for now in _wars():
        summed: defaultdict[tuple[str, str], int] = defaultdict(int)
        for state in now.states:
            for entry in state.entries:
                summed[entry.region, entry.faction] += entry.amount_x100
            if dict(state.balances) != {key: amount for key, amount in summed.items() if amount}:
                yield f"{now.campaign}, turn {state.turn}: the stocks are not the sum of their book"


def roll_calls() -> Iterator[str]:
    """Recruits and leavers of every closed turn stand on the rosters' records."""
    for now in _wars():
        forces = {roster.pk: force for force, roster in rosters_by_force(now.campaign).items()}
        kept: defaultdict[tuple[int, int], list[int]] = defaultdict(lambda: [0, 0])
        calls = RollCall.objects.filter(campaign=now.campaign, muster__set_aside_at=None)
        for call in calls.select_related("muster__unit"):
            if call.muster.unit.roster_id in forces:
                kept[call.turn, call.muster.unit_id][0] += call.muster.joined
                kept[call.turn, call.muster.unit_id][1] += call.muster.left
        wanted: defaultdict[tuple[int, int], list[int]] = defaultdict(lambda: [0, 0])
        enlisted = set(forces.values())
        for state in now.states:
            if state.phase == "closed":
                for force, muster in state.musters:
                    if force in enlisted:
                        wanted[state.turn, int(muster.unit_id)][0] += muster.joined
                        wanted[state.turn, int(muster.unit_id)][1] += muster.left
        for key in sorted({*kept, *wanted}):
            if kept[key] != wanted[key]:
                yield f"{now.campaign}, turn {key[0]}, unit {key[1]}: {kept[key]} on record, {wanted[key]} in the war"


def rosters() -> Iterator[str]:
    """Every enlisted roster stands as its force does in the war.

    Not looked at while they lawfully differ: between the reveal and the close, while a corrected report waits for the
    umpire or was settled, and while battles outside the war are still to be brought along.
    """
    for now in _wars():
        settled = any(isinstance(each, war.Settlement) for each in war.in_force(now.facts))
        if now.now.phase == "battles" or settled or corrections_of(now) or outside_battles(now):
            continue
        by_force = rosters_by_force(now.campaign)
        states = states_of_rosters(by_force.values())
        for key, roster in by_force.items():
            force = now.now.forces.get(key)
            for unit, state in (force.states if force else {}).items():
                there = states[roster.pk].get(int(unit))
                if there is None or (there.present, there.lost) != (state.present, state.lost):
                    yield f"{now.campaign}: unit {unit} of {roster} stands otherwise in the war than on its roster"


def dice() -> Iterator[str]:
    """Told seeds are those that were promised, and every roll is what its seed gives."""
    for now in _wars():
        for seed in check_seeds(now.facts):
            if seed.kept_word is False:
                yield f"{now.campaign}, turn {seed.turn}: another seed was promised than was told"
        for roll in check(now.began, now.facts):
            if roll.verdict in ("wrong", "no_seed"):
                yield f"{now.campaign}, turn {roll.turn}: {roll.label} is not what its seed gives"
