"""How fast a turn closes on a wide map, and a long war is replayed; growth with turns.

Run with `pytest tests/benchmarks/test_war.py --benchmark-only -s`; a plain run skips them.
"""

from __future__ import annotations

import random

from league.engines.maps import Map
from league.engines.strength import RosterUnit
from league.engines.war import (
    Campaign,
    Closed,
    Faction,
    Force,
    Holding,
    Move,
    OrderSet,
    Revealed,
    Stock,
    advance,
    opening,
    replay,
)
from tests.benchmarks.test_supply import once, say, timed
from tests.benchmarks.test_supply import war as wide
from tests.engines.war.world import RULES, RULESET

CLOSE_SECONDS = 2.0
REPLAY_SECONDS = 3.0


def campaign(*, regions, forces, seed=1):
    found = wide(regions=regions, forces=forces, sides=2, seed=seed)
    dice = random.Random(seed)
    return Campaign(
        name="Wide",
        map=found.map,
        ruleset=RULESET,
        rules=RULES,
        factions=tuple(Faction(key=key, name=key) for key in found.factions),
        holdings=tuple(Holding(region=key, faction=holder) for key, holder in found.holders.items()),
        stocks=tuple(Stock(region=each.region, faction=each.faction, amount=each.loads) for each in found.stocks),
        forces=tuple(
            Force(
                key=each.key,
                name=each.key,
                faction=each.faction,
                region=each.region,
                need=each.need,
                units=tuple(
                    RosterUnit(id=f"{each.key}-{n}", unit_class="foot", figures=dice.randint(6, 12)) for n in range(4)
                ),
            )
            for each in found.forces
        ),
    )


def turn_of(of: Campaign, state, dice, number):
    """Orders for everybody: half of them march along some road."""
    at = of.map.roads_by_region()
    facts = []
    for faction in of.factions:
        orders = tuple(
            Move(force=each.key, roads=(dice.choice(at[each.region]).key,))
            for each in state.standing
            if each.faction == faction.key and not each.battle and at[each.region] and dice.random() < 0.5
        )
        number += 1
        facts.append(OrderSet(id=number, sequence=number, turn=state.turn + 1, faction=faction.key, orders=orders))
    facts.append(Revealed(id=number + 1, sequence=number + 1, turn=state.turn + 1))
    facts.append(Closed(id=number + 2, sequence=number + 2, turn=state.turn + 1))
    return facts, number + 2


def history(of: Campaign, turns: int):
    state, facts, number, dice = opening(of), [], 0, random.Random(2)
    for _ in range(turns):
        if state.ended:
            break
        more, number = turn_of(of, state, dice, number)
        facts += more
        state = advance(of, state, more)
    return facts


def test_a_turn_on_a_wide_map_closes_in_two_seconds(benchmark):
    of = campaign(regions=500, forces=200)
    state = opening(of)
    facts, _ = turn_of(of, state, random.Random(1), 0)
    once(benchmark, lambda: advance(of, state, facts))
    own, wall = timed(lambda: advance(of, state, facts), times=3)
    say(f"500 regions, 200 forces: a turn from orders to close in {own:.2f} s ({wall:.2f} s on the wall).")
    assert own < CLOSE_SECONDS


def test_fifty_turns_of_forty_forces_are_replayed_in_three_seconds(benchmark):
    of = campaign(regions=60, forces=40)
    facts = history(of, 50)
    once(benchmark, lambda: replay(of, facts))
    own, wall = timed(lambda: replay(of, facts), times=2)
    turns = replay(of, facts)[-1].turn
    say(f"60 regions, 40 forces: {turns} turns replayed in {own:.2f} s ({wall:.2f} s on the wall).")
    assert own < REPLAY_SECONDS


def test_growth_with_the_number_of_turns(benchmark):
    of = campaign(regions=60, forces=40)
    facts = history(of, 40)
    once(benchmark, lambda: replay(of, [each for each in facts if each.turn <= 10]))
    first = None
    for turns in (10, 20, 40):
        part = [each for each in facts if each.turn <= turns]
        own, _ = timed(lambda part=part: replay(of, part), times=1)
        first = first or own
        say(f"{turns} turns: {own * 1000:.0f} ms, {own / first:.1f} times ten.")


def test_the_maps_are_as_wide_as_said():
    of = campaign(regions=500, forces=200)
    assert isinstance(of.map, Map)
    assert (len(of.map.regions), len(of.map.roads), len(of.forces)) == (500, 1500, 200)
