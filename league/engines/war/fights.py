"""Reported battles: scars, supply used, and who has to leave."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from league.engines.maps import nearest_supplied_way, reachable
from league.engines.strength import Engagement
from league.engines.war.feeding import draw, open_to
from league.engines.war.model import BattleOutcome, ForceOutcome, Postponed
from league.engines.war.spoils import occupy
from league.engines.war.state import Battle, ForceState
from league.engines.war.working import HUNDRED, Working

__all__ = ["apply_outcomes", "leave_the_field"]


def apply_outcomes(w: Working, outcomes: Iterable[BattleOutcome], postponed: Iterable[Postponed]) -> None:
    """Casualties count from the report on; who leaves the field is for the end of the turn.

    A report that no longer fits, since an earlier one was corrected, changes nothing and is noted for the umpire.
    """
    for put_off in postponed:
        battle = w.battles.get(put_off.battle)
        if battle is None:
            w.note("unknown_battle", known="umpire", because=[put_off.id], battle=put_off.battle)
            continue
        w.battles[battle.id] = replace(battle, postponed=True)
        w.note(
            "postponed",
            known=w.battles_known,
            region=battle.region,
            because=[put_off.id],
            battle=battle.id,
            reason=put_off.reason,
        )
    for outcome in outcomes:
        battle = w.battles.get(outcome.battle)
        if battle is None or (outcome.winner and outcome.winner not in battle.factions):
            w.note("unknown_battle", known="umpire", because=[outcome.id], battle=outcome.battle)
        elif battle.outcome is not None:
            w.note("battle_told_twice", known="umpire", because=[outcome.id], battle=outcome.battle)
        else:
            _apply(w, battle, outcome)


def _apply(w: Working, battle: Battle, outcome: BattleOutcome) -> None:
    w.battles[battle.id] = replace(battle, outcome=outcome, postponed=False)
    w.note(
        {"conceded": "battle_conceded", "simulated": "battle_simulated"}.get(
            outcome.source, "battle_won" if outcome.winner else "battle_drawn"
        ),
        known=w.battles_known,
        region=battle.region,
        faction=outcome.winner,
        because=[outcome.id],
        battle=battle.id,
        factions=battle.factions,
        losers=tuple(each for each in battle.factions if outcome.winner and w.hostile(each, outcome.winner)),
    )
    told = {each.force: each for each in outcome.forces}
    for key in told:
        if key not in battle.forces:
            w.note("force_not_there", known="umpire", force=key, because=[outcome.id], battle=battle.id)
    if outcome.source == "conceded":
        return
    for key in battle.forces:
        _scar(w, battle, outcome, told.get(key, ForceOutcome(force=key)))


def _scar(w: Working, battle: Battle, outcome: BattleOutcome, told: ForceOutcome) -> None:
    before = w.forces[told.force]
    fielded = told.fielded or frozenset(key for key, state in before.states.items() if state.present)
    engagement = Engagement(
        id=battle.id,
        sequence=w.turn,
        outcome="draw" if not outcome.winner else "loss" if w.hostile(outcome.winner, before.faction) else "win",
        casualties=told.casualties,
        fielded=fielded,
    )
    force = w.befall(told.force, engagement)
    fell = sum(after.figures_lost_total - before.states[key].figures_lost_total for key, after in force.states.items())
    w.note_of(force, "casualties", battle=battle.id, fell=fell, gone=force.lost - before.lost, because=[outcome.id])
    wanted = told.supply_used
    if wanted is None:
        wanted = force.need * w.campaign.rules.battle_use_percent // 100
    if wanted > 0:
        used = draw(w, force.faction, force.region, wanted * HUNDRED, kind="fought", about=battle.id)
        w.note_of(force, "supply_fought", battle=battle.id, wanted=wanted, used_x100=used, because=[outcome.id])


def leave_the_field(w: Working) -> None:
    """After all battles of a turn: the beaten fall back or give up, the winners hold what they fought for."""
    fought = [each for each in w.battles.values() if each.outcome is not None]
    for force in list(w.standing()):
        if all(state.gone for state in force.states.values()) and force.units:
            w.note_of(force, "force_destroyed", known="region")
            w.change(force.key, gone="destroyed", battle="", road="")
    leavers = {battle.id: _leavers(w, battle) for battle in fought}
    gone_from = {key for keys in leavers.values() for key in keys}
    ground = _Ground(w, gone_from)
    for battle in fought:
        for key in leavers[battle.id]:
            _fall_back(w, battle, key, ground)
    for battle in fought:
        for key in battle.forces:
            w.change(key, battle="")
    for battle in fought:
        if battle.road:
            _clear_the_road(w, battle)
        else:
            here = [each for each in w.standing() if each.region == battle.region and not each.road]
            if here and len({w.campaign.side_of(each.faction) for each in here}) == 1:
                captured = battle.outcome.captured if battle.outcome else None
                occupy(w, battle.region, here, captured=captured)


def _leavers(w: Working, battle: Battle) -> list[str]:
    """Whoever lost; after a draw the attackers, if the rules want it so."""
    outcome = battle.outcome
    if outcome is None:
        return []
    standing = [w.forces[key] for key in battle.forces if not w.forces[key].gone]
    if outcome.winner:
        return [each.key for each in standing if w.hostile(each.faction, outcome.winner)]
    if w.campaign.rules.drawn == "both":
        return []
    attackers = {key for side in battle.sides if side.role == "attacker" for key in side.forces}
    return [each.key for each in standing if each.key in attackers]


class _Ground:
    """Where each faction's beaten may go, as it is once all battles are over but nobody has left yet."""

    def __init__(self, w: Working, leaving: set[str]) -> None:
        self.w = w
        self.contested = w.contested() | {each.region for each in w.battles.values() if not each.road}
        self.staying = [each for each in w.standing() if each.key not in leaving and not each.road]
        self.known: dict[str, tuple[frozenset[str], frozenset[str]]] = {}

    def of(self, faction: str) -> tuple[frozenset[str], frozenset[str]]:
        """The regions it may pass, and those of them that its supply reaches and its side holds."""
        if faction not in self.known:
            w = self.w
            enemy = {each.region for each in self.staying if w.hostile(each.faction, faction)}
            passable = open_to(w, faction, frozenset(self.contested)) - enemy
            friends = {each.key for each in w.campaign.factions if not w.hostile(each.key, faction)}
            wells = {region for region in passable if any(w.keeps(region, friend) for friend in friends)}
            held = {region for region in passable if w.control.get(region) in friends}
            self.known[faction] = passable, reachable(w.map, wells, passable=passable) & held
        return self.known[faction]


def _fall_back(w: Working, battle: Battle, key: str, ground: _Ground) -> None:
    force = w.forces[key]
    passable, supplied = ground.of(force.faction)
    because = [battle.outcome.id] if battle.outcome else []
    if force.road and force.region in supplied:
        force = w.change(key, road="", dug_in=False)
        w.note_of(force, "retreated", known="region", origin=force.region, to=force.region, because=because)
        return
    way = nearest_supplied_way(w.map, force.region, passable=passable, supplied=supplied)
    if way is not None and way.steps <= w.campaign.rules.retreat_most:
        origin = force.region
        force = w.change(key, region=way.end, road="", came_from=origin, dug_in=False)
        w.note_of(force, "retreated", known="region", origin=origin, to=way.end, way=way.regions, because=because)
    elif battle.outcome and battle.outcome.winner:
        w.change(key, gone="surrendered", battle="", road="", dug_in=False)
        w.note_of(force, "surrendered", known="all", battle=battle.id, winner=battle.outcome.winner, because=because)
        _pay_for_surrender(w, battle)


def _pay_for_surrender(w: Working, battle: Battle) -> None:
    winner = battle.outcome.winner if battle.outcome else ""
    for faction in battle.factions:
        if winner and not w.hostile(faction, winner):
            w.points[faction] = w.points.get(faction, 0) + w.campaign.rules.victory.per_surrender


def _clear_the_road(w: Working, battle: Battle) -> None:
    """The winner goes on to where the road leads, unless an enemy stands there; everybody else is where they came
    from."""
    road = w.chart.roads[battle.road]
    for key in battle.forces:
        force = w.forces[key]
        if force.gone or not force.road:
            continue
        aim = road.other(force.region)
        won = (
            battle.outcome is not None and battle.outcome.winner and not w.hostile(force.faction, battle.outcome.winner)
        )
        if won and not _enemy_at(w, aim, force):
            force = w.change(key, region=aim, road="", came_from=force.region)
            w.note_of(force, "advanced", known="region", to=aim)
            occupy(w, aim, [force])
        else:
            w.change(key, road="")


def _enemy_at(w: Working, region: str, force: ForceState) -> bool:
    return region in w.contested() or any(
        each.region == region and w.hostile(each.faction, force.faction) for each in w.standing()
    )
