"""The umpire's word, carried out."""

from __future__ import annotations

from league.engines.war.model import (
    AddDepot,
    DropDepot,
    Effect,
    FactId,
    GrantStock,
    MapEdited,
    OutsideBattle,
    PlaceForce,
    RaiseForce,
    RemoveForce,
    Ruling,
    SetControl,
    Settlement,
)
from league.engines.war.working import HUNDRED, Working, entered

__all__ = ["bring_scars", "change_map", "rule"]


def rule(w: Working, ruling: Ruling) -> None:
    what = "settlement" if isinstance(ruling, Settlement) else "ruling"
    w.note(what, known="umpire", because=[ruling.id], reason=ruling.reason, effects=len(ruling.effects))
    for effect in ruling.effects:
        _carry_out(w, effect, ruling.id)


def change_map(w: Working, edit: MapEdited) -> None:
    """What stands on ground that is gone and is not spoken of is lost: forces leave the war, supply spoils."""
    w.note("map_edited", known="all", because=[edit.id], reason=edit.reason)
    w.map = edit.map
    for effect in edit.effects:
        _carry_out(w, effect, edit.id)
    here = w.chart.regions
    for region in list(w.control):
        if region not in here:
            del w.control[region]
    for region in [each for each in w.depots if each not in here]:
        del w.depots[region]
    for (region, faction), amount in list(w.balances.items()):
        if region not in here:
            w.book("spoilt", region, faction, -amount, region)
    for force in list(w.standing()):
        if force.region not in here:
            w.change(force.key, gone="removed", battle="", road="")
            w.note_of(force, "removed", because=[edit.id])
        elif force.road and force.road not in w.chart.roads:
            w.change(force.key, battle="", road="")
    w.battles = {
        key: each
        for key, each in w.battles.items()
        if each.region in here and (not each.road or each.road in w.chart.roads)
    }


def bring_scars(w: Working, outside: OutsideBattle) -> None:
    if outside.force in w.forces:
        force = w.befall(outside.force, outside.engagement)
        w.note_of(force, "fought_outside", because=[outside.id])
    else:
        w.note("effect_failed", known="umpire", because=[outside.id], effect="OutsideBattle", key=outside.force)


def _carry_out(w: Working, effect: Effect, because: FactId) -> None:
    """What can no longer be done, since an earlier report was corrected, is noted and left."""
    if not _possible(w, effect):
        w.note("effect_failed", known="umpire", because=[because], effect=type(effect).__name__, key=_key(effect))
        return
    if isinstance(effect, SetControl):
        _set_control(w, effect, because)
    elif isinstance(effect, PlaceForce):
        origin = w.forces[effect.force].region
        force = w.change(effect.force, region=effect.region, gone="", road="", battle="", dug_in=False)
        w.note_of(force, "placed", known="region", origin=origin, to=effect.region, because=[because])
    elif isinstance(effect, RemoveForce):
        force = w.forces[effect.force]
        w.note_of(force, "removed", known="region", because=[because])
        w.change(effect.force, gone="removed", road="", battle="", dug_in=False)
    elif isinstance(effect, RaiseForce):
        w.forces[effect.force.key] = entered(effect.force, w.campaign)
        w.note_of(w.forces[effect.force.key], "raised", known="region", because=[because])
    elif isinstance(effect, AddDepot):
        w.depots[effect.region] = effect.faction
        w.note("depot_added", known="region", region=effect.region, faction=effect.faction, because=[because])
    elif isinstance(effect, DropDepot):
        owner = w.depots.pop(effect.region)
        w.note("depot_dropped", known="region", region=effect.region, faction=owner, because=[because])
    elif isinstance(effect, GrantStock):
        amount = max(effect.amount * HUNDRED, -w.stock(effect.region, effect.faction))
        w.book("settled", effect.region, effect.faction, amount, str(because))
        w.note(
            "stock_settled",
            known="side",
            region=effect.region,
            faction=effect.faction,
            amount_x100=amount,
            because=[because],
        )
    else:
        w.points[effect.faction] = w.points.get(effect.faction, 0) + effect.points
        w.note("points_awarded", known="all", faction=effect.faction, points=effect.points, because=[because])


def _set_control(w: Working, effect: SetControl, because: FactId) -> None:
    loser = w.control.get(effect.region, "")
    if effect.faction:
        w.control[effect.region] = effect.faction
    else:
        w.control.pop(effect.region, None)
    w.note(
        "control_ruled",
        known=w.control_known,
        region=effect.region,
        faction=effect.faction,
        loser=loser,
        because=[because],
    )


def _possible(w: Working, effect: Effect) -> bool:
    region, faction = getattr(effect, "region", None), getattr(effect, "faction", None)
    if isinstance(effect, RaiseForce):
        if effect.force.key in w.forces:
            return False
        region, faction = effect.force.region, effect.force.faction
    free_of_faction = isinstance(effect, SetControl) and not faction
    return (
        (region is None or region in w.chart.regions)
        and (faction is None or free_of_faction or w.campaign.faction(faction) is not None)
        and _of_things(w, effect)
    )


def _of_things(w: Working, effect: Effect) -> bool:
    """Whether the force or depot of an effect is there to be acted on."""
    if isinstance(effect, PlaceForce | RemoveForce):
        force = w.forces.get(effect.force)
        gone = ("destroyed",) if isinstance(effect, PlaceForce) else ("destroyed", "removed", "surrendered")
        return force is not None and force.gone not in gone
    if isinstance(effect, AddDepot):
        return effect.region not in w.depots
    return not isinstance(effect, DropDepot) or effect.region in w.depots


def _key(effect: Effect) -> str:
    if isinstance(effect, RaiseForce):
        return effect.force.key
    return str(getattr(effect, "region", "") or getattr(effect, "force", "") or getattr(effect, "faction", ""))
