"""The reveal: every force moves at once, and where enemies meet there is a battle to plan."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from league.engines.maps import Road
from league.engines.war.model import DigIn, Move, OrderSet, Roll
from league.engines.war.orders import by_order
from league.engines.war.spoils import occupy
from league.engines.war.state import Battle, BattleSide, ForceState, Role, RollNeeded, TurnState
from league.engines.war.working import Working

__all__ = ["carry_out", "pitch_battles"]


def carry_out(w: Working, sets: Mapping[str, OrderSet], before: TurnState) -> None:
    """Orders that became impossible since they were given (an earlier report was corrected) are left out, and noted."""
    plans: dict[str, list[Road]] = {}
    for faction, given in sets.items():
        wrong = by_order(w.campaign, before, given)
        carried = []
        for number, order in enumerate(given.orders):
            if number in wrong:
                first = wrong[number][0]
                w.note(
                    "order_failed",
                    known="side",
                    faction=faction,
                    because=[given.id],
                    why=first.code,
                    message=first.message,
                    values=dict(first.args),
                )
                continue
            carried.append(order)
            if isinstance(order, Move):
                plans[order.force] = [w.chart.roads[key] for key in order.roads]
            elif isinstance(order, DigIn):
                force = w.change(order.force, dug_in=True)
                w.note_of(force, "dug_in", because=[given.id])
        w.orders[faction] = replace(given, orders=tuple(carried))
    _march(w, plans, sets)


def _march(w: Working, plans: Mapping[str, list[Road]], sets: Mapping[str, OrderSet]) -> None:
    """Road by road, all together. A force stops where it meets an enemy, on the road or where the road leads."""
    began = {key: w.forces[key].region for key in plans}
    left = {key: list(roads) for key, roads in plans.items()}
    while left:
        steps = {key: roads.pop(0) for key, roads in left.items()}
        caught = _caught_on_roads(w, steps)
        for key, road in steps.items():
            force = w.forces[key]
            if key in caught:
                w.change(key, road=road.key, dug_in=False)
            else:
                w.change(key, region=road.other(force.region), came_from=force.region, dug_in=False)
        standing = w.in_regions()
        left = {
            key: roads
            for key, roads in left.items()
            if roads and key not in caught and not _meets(w, w.forces[key], standing)
        }
    for key, origin in began.items():
        force = w.forces[key]
        because = [sets[force.faction].id]
        if force.region != origin:
            w.note_of(force, "moved", known="region", origin=origin, to=force.region, because=because)
        if len(plans[key]) > 1 and not force.road and force.region != _aim(origin, plans[key]):
            w.note_of(force, "stopped", to=force.region, because=because)


def _aim(origin: str, roads: Iterable[Road]) -> str:
    for road in roads:
        origin = road.other(origin)
    return origin


def _meets(w: Working, force: ForceState, standing: Mapping[str, Sequence[ForceState]]) -> bool:
    return any(w.hostile(force.faction, each.faction) for each in standing.get(force.region, ()))


def _caught_on_roads(w: Working, steps: Mapping[str, Road]) -> set[str]:
    """Those who meet an enemy coming the other way."""
    by_road: defaultdict[str, list[str]] = defaultdict(list)
    for key, road in steps.items():
        by_road[road.key].append(key)
    caught = set()
    for keys in by_road.values():
        forces = [w.forces[key] for key in keys]
        caught |= {
            one.key
            for one in forces
            if any(one.region != other.region and w.hostile(one.faction, other.faction) for other in forces)
        }
    return caught


def pitch_battles(w: Working, rolls: Mapping[str, Roll], stood: Mapping[str, str]) -> None:
    """Every place where enemies stand becomes a battle; whoever walked in unopposed holds the region.

    `stood` is where each force was before the march. Whoever holds the region defends it; failing that, whoever was
    there already; failing that nobody does, and a die decides who is named the attacker.
    """
    open_battles = {(each.region, each.road): each for each in w.battles.values()}
    places: defaultdict[tuple[str, str], list[ForceState]] = defaultdict(list)
    for force in w.standing():
        way = w.chart.roads.get(force.road)
        places[(min(way.a, way.b), way.key) if way else (force.region, "")].append(force)
    w.battles = {}
    for force in list(w.standing()):
        if force.battle:
            w.change(force.key, battle="")
    for (region, road), forces in sorted(places.items()):
        if len({w.campaign.side_of(each.faction) for each in forces}) > 1:
            place = _Place(region=region, road=road, old=open_battles.get((region, road)))
            _pitch(w, place, forces, rolls, stood)
        elif road:
            for each in forces:
                w.change(each.key, road="")
        else:
            occupy(w, region, forces)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Place:
    """Where enemies meet; `old` is the battle that has been open there since an earlier turn."""

    region: str
    road: str
    old: Battle | None


def _pitch(
    w: Working,
    place: _Place,
    forces: Sequence[ForceState],
    rolls: Mapping[str, Roll],
    stood: Mapping[str, str],
) -> None:
    region, road, old = place.region, place.road, place.old
    key = old.id if old else f"{w.turn}:{road or region}"
    terrain = w.chart.roads[road].kind if road else w.chart.regions[region].terrain
    groups = _groups(w, forces)
    defender = None if road else _defender(w, region, groups, old, stood)
    order = [side for side in groups if side != defender]
    rolled = True
    if defender is None and old is not None and old.rolled:
        order = _as_before(w, old, order)
    elif defender is None:
        order, rolled = _by_lot(w, key, order, rolls)
    battle = Battle(
        id=key,
        turn=old.turn if old else w.turn,
        region=region,
        road=road,
        terrain=terrain,
        sides=(
            *(_side("meeting" if defender is None else "attacker", groups[side]) for side in order),
            *([_side("defender", groups[defender])] if defender is not None else ()),
        ),
        scenarios=_scenarios(w, terrain, len(groups), meeting=defender is None),
        rolled=rolled,
    )
    w.battles[key] = battle
    for each in forces:
        w.change(each.key, battle=key)
    w.note(
        "battle_goes_on" if old else "battle_on_road" if road else "battle_begins",
        known=w.battles_known,
        region=region,
        battle=key,
        road=road,
        factions=battle.factions,
    )


def _groups(w: Working, forces: Sequence[ForceState]) -> dict[str, list[ForceState]]:
    """Who fights together, in the order of the campaign's factions."""
    groups: dict[str, list[ForceState]] = {}
    for faction in w.campaign.factions:
        for each in forces:
            if each.faction == faction.key:
                groups.setdefault(w.campaign.side_of(faction.key), []).append(each)
    return groups


def _side(role: Role, forces: Sequence[ForceState]) -> BattleSide:
    return BattleSide(
        role=role,
        factions=tuple(dict.fromkeys(each.faction for each in forces)),
        forces=tuple(each.key for each in forces),
    )


def _defender(
    w: Working, region: str, groups: Mapping[str, object], old: Battle | None, stood: Mapping[str, str]
) -> str | None:
    holder = w.control.get(region)
    if holder is not None and w.campaign.side_of(holder) in groups:
        return w.campaign.side_of(holder)
    if old:
        held = [w.campaign.side_of(side.factions[0]) for side in old.sides if side.role == "defender"]
        return next((side for side in held if side in groups), None)
    there = {
        w.campaign.side_of(each.faction)
        for each in w.standing()
        if each.region == region and not each.road and stood.get(each.key) == region
    }
    return there.pop() if len(there) == 1 else None


FACES = {2: 6, 3: 6, 4: 4, 5: 10, 6: 6}


def _as_before(w: Working, old: Battle, order: list[str]) -> list[str]:
    """The lot of a battle that goes on was drawn when it began; whoever joined it since comes last."""
    drawn = [w.campaign.side_of(side.factions[0]) for side in old.sides]
    return sorted(order, key=lambda side: drawn.index(side) if side in drawn else len(drawn))


def _by_lot(w: Working, key: str, sides: list[str], rolls: Mapping[str, Roll]) -> tuple[list[str], bool]:
    """One die names the side that goes first, its faces shared out in equal runs."""
    label, faces = f"{key}/first", FACES.get(len(sides), 20)
    roll = rolls.get(label)
    if roll is None or len(roll.results) != 1 or not 1 <= roll.results[0] <= faces:
        w.rolls_needed.append(RollNeeded(label=label, count=1, sides=faces))
        return sides, False
    first = sides[(roll.results[0] - 1) * len(sides) // faces]
    return [first, *(side for side in sides if side != first)], True


def _scenarios(w: Working, terrain: str, sides: int, *, meeting: bool) -> tuple[str, ...]:
    """Those the rules name for the terrain, failing that every scenario for so many sides."""
    ground, known = w.campaign.rules.ground(terrain), w.campaign.ruleset
    named = (ground.meeting if meeting else ()) or ground.scenarios
    fitting = [key for key in named if (one := known.scenario(key)) is not None and len(one.sides) == sides]
    return tuple(fitting or [each.key for each in known.scenarios if len(each.sides) == sides])
