"""A map changed under a running war: what changes, and what stands where there will be no ground."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from league.campaigns.queries.war import War
from league.engines import war
from league.engines.maps import Change, Map, Standing, changes

__all__ = ["Homeless", "MapChange", "changes_of", "effects_of", "homeless_of", "places_for", "storing"]

HUNDRED = 100  # hundredths of a load in a load


@dataclass(frozen=True, kw_only=True, slots=True)
class MapChange:
    """One difference in words; `touches` names what stands there."""

    words: str
    weight: str
    touches: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Homeless:
    """A force or a stock on ground that goes. `refuge` is the nearest region that stays, if there is one;
    `loads` are a stock's whole loads."""

    what: str
    key: str
    name: str
    faction: str
    region: str
    refuge: str
    loads: int = 0


def standing_of(now: War) -> Iterator[Standing]:
    """Everything of the war that is tied to the map, as `league.engines.maps.changes` asks for it."""
    state = now.now
    names = {each.key: each.name for each in now.began.factions}
    for force in state.standing:
        yield Standing(what="force", key=force.key, name=force.name, region=force.region, road=force.road)
    for region, faction in state.control.items():
        if faction:
            yield Standing(what="holding", key=region, name=names.get(faction, faction), region=region)
    for region, faction in state.depots.items():
        words = _("depot of %(faction)s") % {"faction": names.get(faction, faction)}
        yield Standing(what="stock", key=f"{region}/{faction}", name=words, region=region)
    for (region, faction), amount in state.balances.items():
        if amount and state.depots.get(region) != faction:
            words = _("supply of %(faction)s") % {"faction": names.get(faction, faction)}
            yield Standing(what="stock", key=f"{region}/{faction}", name=words, region=region)


def _found(now: War, new: Map) -> Sequence[Change]:
    return changes(now.now.map, new, standing_of(now))


def changes_of(now: War, new: Map) -> list[MapChange]:
    """Every difference between the map of today and a new one, in the reader's language."""
    return [
        MapChange(
            words=_(each.message) % each.args, weight=each.weight, touches=tuple(one.name for one in each.touches)
        )
        for each in _found(now, new)
    ]


def homeless_of(now: War, new: Map) -> list[Homeless]:
    """The forces and stocks whose region goes, by key: somebody must say what becomes of each. Who held a region that
    is gone holds nothing there any more; that needs no answer."""
    refuges = {each.key: each.refuge or "" for each in _found(now, new) if each.code == "region_gone"}
    state = now.now
    names = {each.key: each.name for each in now.began.factions}
    forces = [
        Homeless(
            what="force",
            key=each.key,
            name=each.name,
            faction=each.faction,
            region=each.region,
            refuge=refuges[each.region],
        )
        for each in state.standing
        if each.region in refuges
    ]
    stocks = [
        Homeless(
            what="stock",
            key=f"{region}/{faction}",
            name=_("%(loads)s loads of %(faction)s")
            % {"loads": amount // HUNDRED, "faction": names.get(faction, faction)},
            faction=faction,
            region=region,
            refuge=refuges[region],
            loads=amount // HUNDRED,
        )
        for (region, faction), amount in sorted(state.balances.items())
        if region in refuges and amount >= HUNDRED
    ]
    return [*forces, *stocks]


def places_for(now: War, new: Map, homeless: Homeless) -> list[tuple[str, str]]:
    """Where a homeless force or stock may go: (key, name) of regions."""
    if homeless.what == "force":
        return [(each.key, each.name) for each in new.regions]
    return storing(now, new, homeless.faction)


def storing(now: War, new: Map, faction: str) -> list[tuple[str, str]]:
    """The regions of the new map where supply of a faction can lie: at a depot of its own, or a source it holds."""
    state = now.now
    return [
        (each.key, each.name)
        for each in new.regions
        if state.depots.get(each.key) == faction or (each.produces and state.control.get(each.key) == faction)
    ]


def effects_of(homeless: Sequence[Homeless], choices: Mapping[str, str]) -> tuple[war.Effect, ...]:
    """What the umpire said becomes of each, as effects. `choices`: key -> region, or empty: it leaves the war."""
    effects: list[war.Effect] = []
    for each in homeless:
        to = choices.get(each.key, "")
        if each.what == "force":
            effects.append(war.PlaceForce(force=each.key, region=to) if to else war.RemoveForce(force=each.key))
        elif to:
            effects.append(war.GrantStock(region=to, faction=each.faction, amount=each.loads))
    return tuple(effects)
