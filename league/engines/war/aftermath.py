"""The end of a turn: hunger, recruits, points, and whether the war is over."""

from __future__ import annotations

from league.engines.war.feeding import draw, in_reach
from league.engines.war.fights import leave_the_field
from league.engines.war.model import Rebuild, Replacement
from league.engines.war.prices import may_rebuild_in
from league.engines.war.spoils import spoil_excess
from league.engines.war.state import Ended, ForceState, Known
from league.engines.war.working import Working

__all__ = ["close", "judge"]


def close(w: Working) -> None:
    """Everything of the aftermath but the umpire's rulings and the points: see `judge`."""
    for battle in w.battles.values():
        if battle.outcome is None and not battle.postponed:
            w.note(
                "not_fought",
                known=w.battles_known,
                region=battle.region,
                battle=battle.id,
            )
    fought = {key for battle in w.battles.values() if battle.outcome for key in battle.forces}
    leave_the_field(w)
    _hunger(w)
    _recruits(w, fought)


def judge(w: Working) -> None:
    """Last of all: what has no place spoils, points are counted, and the war may be over."""
    spoil_excess(w)
    _points(w)
    w.ended = _end(w)
    if w.ended:
        w.note("war_over", known="all", reason=w.ended.reason, winners=w.ended.winners)


def _hunger(w: Working) -> None:
    for force in list(w.standing()):
        percent = w.campaign.rules.hardship(force.condition).lost_percent
        left = 0
        for unit in force.units:
            leave = force.states[unit.id].present * percent // 100
            if leave:
                w.muster(force.key, unit.id, force.condition, left=leave)
                left += leave
        if left:
            w.note_of(force, "hunger", figures=left)


def _recruits(w: Working, fought: set[str]) -> None:
    for faction in w.campaign.factions:
        given = w.orders.get(faction.key)
        for order in given.orders if given else ():
            if isinstance(order, Rebuild):
                _rebuild(w, order, fought)


def _rebuild(w: Working, order: Rebuild, fought: set[str]) -> None:
    force = w.forces[order.force]
    if force.gone:
        return
    why = _why_not(w, force, fought)
    if why:
        w.note_of(force, "not_rebuilt", why=why)
        return
    joined = sum(_join(w, force, each) for each in order.replacements)
    wanted = sum(each.figures for each in order.replacements)
    w.note_of(w.forces[force.key], "rebuilt", figures=joined, wanted=wanted)


def _why_not(w: Working, force: ForceState, fought: set[str]) -> str:
    if force.key in fought or force.battle:
        return "fought"
    if not w.campaign.rules.hardship(force.condition).may_rebuild:
        return force.condition
    return "" if may_rebuild_in(w.campaign, w, force) else "not_here"


def _join(w: Working, force: ForceState, wanted: Replacement) -> int:
    """As many as there are places for, and supply in reach to pay for."""
    unit = next(each for each in force.units if each.id == wanted.unit_id)
    price = w.campaign.rules.price_x100(unit.unit_class, unit.quality)
    places = w.forces[force.key].states[unit.id].lost
    if price is None:
        return 0
    figures = min(wanted.figures, places)
    if price:
        funds = sum(amount for _, amount in in_reach(w, force.faction, force.region))
        figures = min(figures, funds // price)
        draw(w, force.faction, force.region, figures * price, kind="spent", about=force.key)
    if figures:
        w.muster(force.key, unit.id, "recruits", joined=figures)
    return figures


def _points(w: Working) -> None:
    rules = w.campaign.rules.victory
    gained = dict.fromkeys((each.key for each in w.campaign.factions), 0)
    for key, holder in w.control.items():
        region = w.chart.regions.get(key)
        if region and holder in gained:
            gained[holder] += region.worth * rules.per_worth + rules.per_stronghold * region.stronghold
    for battle in w.battles.values():
        if battle.outcome and battle.outcome.winner:
            for faction in battle.factions:
                gained[faction] += 0 if w.hostile(faction, battle.outcome.winner) else rules.per_battle
    known: Known = "all" if w.campaign.rules.fog.control == "all" else "side"
    for faction, points in gained.items():
        w.points[faction] = w.points.get(faction, 0) + points
        if points:
            w.note("points", known=known, faction=faction, points=points, total=w.points[faction])


def _end(w: Working) -> Ended | None:
    rules, sides = w.campaign.rules.victory, {w.campaign.side_of(each.key) for each in w.campaign.factions}
    standing = {w.campaign.side_of(each.faction) for each in w.standing()}
    if len(sides) > 1 and len(standing) <= 1:
        return Ended(reason="last_side", winners=_of_sides(w, standing))
    strongholds = [key for key, region in w.chart.regions.items() if region.stronghold]
    if rules.strongholds and strongholds:
        holders = {w.campaign.side_of(w.control[key]) if key in w.control else "" for key in strongholds}
        if len(holders) == 1 and "" not in holders:
            return Ended(reason="strongholds", winners=_of_sides(w, holders))
    best = max(w.points.values(), default=0)
    first = tuple(each.key for each in w.campaign.factions if w.points.get(each.key, 0) == best)
    if rules.points is not None and best >= rules.points:
        return Ended(reason="points", winners=first)
    if rules.last_turn is not None and w.turn >= rules.last_turn:
        return Ended(reason="last_turn", winners=first)
    return None


def _of_sides(w: Working, sides: set[str]) -> tuple[str, ...]:
    return tuple(each.key for each in w.campaign.factions if w.campaign.side_of(each.key) in sides)
