"""A turn's supply: sources produce, forces are fed, depots built, loads sent on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from league.engines import supply
from league.engines.maps import Map
from league.engines.supply import Distribution
from league.engines.war.model import BuildDepot, SendSupply
from league.engines.war.working import HUNDRED, Working

__all__ = ["draw", "feed", "in_reach", "open_to"]


def feed(w: Working) -> None:
    """Every faction by itself: its forces first, by its order of importance, then new depots, then what is sent."""
    contested = w.contested()
    for faction in w.campaign.factions:
        told = _of(faction.key, supply.distribute(_situation(w, faction.key, contested)))
        w.supply[faction.key] = told
        _book_feeding(w, told)
        _set_conditions(w, told)
    for faction in w.campaign.factions:
        given = w.orders.get(faction.key)
        if given is None:
            continue
        _build_depots(w, faction.key, [each.region for each in given.orders if isinstance(each, BuildDepot)])
        roads = _what_is_left(w, w.supply[faction.key])
        for order in given.orders:
            if isinstance(order, SendSupply):
                roads = _send(w, faction.key, order, roads)


def _holders(w: Working, faction: str, *, yielding: bool) -> dict[str, str]:
    """Regions that block or yield. What allies hold is as open as what nobody holds; so is one's own if not to yield."""
    return {
        region: faction if holder == faction else _enemies_of(faction)
        for region, holder in w.control.items()
        if (holder == faction and yielding) or w.hostile(holder, faction)
    }


def _enemies_of(faction: str) -> str:
    """All enemies taken together, who only stand in the way: a key no faction of the campaign can have by being it."""
    return f"not {faction}"


def _of(faction: str, told: Distribution) -> Distribution:
    """One faction's part of it."""
    return Distribution(
        forces=tuple(each for each in told.forces if each.faction == faction),
        deliveries=tuple(each for each in told.deliveries if each.faction == faction),
        stocks=tuple(each for each in told.stocks if each.faction == faction),
        roads=tuple(each for each in told.roads if each.faction == faction),
    )


def _stocks(w: Working, faction: str) -> Iterator[supply.Stock]:
    """What can be drawn on. A ruling may leave supply on ground the enemy holds: there it lies until it spoils."""
    for (region, owner), amount in sorted(w.balances.items()):
        holder = w.control.get(region)
        in_enemy_hands = holder is not None and w.hostile(holder, faction)
        if owner == faction and amount >= HUNDRED and region in w.chart.regions and not in_enemy_hands:
            yield supply.Stock(region=region, faction=faction, loads=amount // HUNDRED)


def _situation(w: Working, faction: str, contested: frozenset[str]) -> supply.Situation:
    given = w.orders.get(faction)
    importance = {key: place for place, key in enumerate(given.importance if given else (), 1)}
    last = len(importance) + 1
    return supply.Situation(
        map=w.map,
        factions=(faction, _enemies_of(faction)),
        holders=_holders(w, faction, yielding=True),
        stocks=tuple(_stocks(w, faction)),
        forces=tuple(
            supply.Force(
                key=each.key,
                name=each.name,
                faction=faction,
                region=each.region,
                need=each.need,
                importance=importance.get(each.key, last),
            )
            for each in w.standing()
            if each.faction == faction
        ),
        contested=contested,
    )


def _book_feeding(w: Working, told: Distribution) -> None:
    for each in told.stocks:
        w.book("produced", each.region, each.faction, each.produced * HUNDRED)
    for delivery in told.deliveries:
        w.book("used", delivery.stock, delivery.faction, -delivery.arrived, delivery.force)
        w.book("spoilt", delivery.stock, delivery.faction, -delivery.spoilt, delivery.force)


def _set_conditions(w: Working, told: Distribution) -> None:
    for each in told.forces:
        before = w.forces[each.force].condition
        force = w.change(each.force, condition=each.state)
        if each.state != "supplied" or before != "supplied":
            w.note_of(force, each.state, need=each.need, loads=each.loads)


def _build_depots(w: Working, faction: str, regions: list[str]) -> None:
    for region in regions:
        if w.control.get(region) != faction or region in w.contested() or region in w.depots:
            w.note("depot_not_built", known="side", region=region, faction=faction, why="lost")
            continue
        price = w.campaign.rules.depot_price * HUNDRED
        if sum(amount for _, amount in in_reach(w, faction, region)) < price:
            w.note("depot_not_built", known="side", region=region, faction=faction, why="too_dear")
            continue
        draw(w, faction, region, price, kind="spent", about=region)
        w.depots[region] = faction
        w.note("depot_built", known="region", region=region, faction=faction)


def _what_is_left(w: Working, told: Distribution) -> Map:
    """The map with what the forces' supply leaves of each road."""
    used: dict[str, int] = {}
    for each in told.roads:
        used[each.road] = used.get(each.road, 0) + each.loads
    return _narrowed(w.map, used)


def _narrowed(roads: Map, used: dict[str, int]) -> Map:
    if not used:
        return roads
    return replace(
        roads,
        roads=tuple(
            replace(each, capacity=each.capacity - used[each.key]) if each.key in used else each for each in roads.roads
        ),
    )


def _send(w: Working, faction: str, order: SendSupply, roads: Map) -> Map:
    """A shipment is fed like a force that stands at its end. Returns the map with what is left of each road."""
    amount = min(order.amount, w.stock(order.origin, faction) // HUNDRED)
    contested = w.contested()
    arrived = 0
    told = None
    if amount > 0 and order.to not in contested and w.keeps(order.to, faction):
        told = _of(
            faction,
            supply.distribute(
                supply.Situation(
                    map=roads,
                    factions=(faction, _enemies_of(faction)),
                    holders=_holders(w, faction, yielding=False),
                    stocks=(supply.Stock(region=order.origin, faction=faction, loads=amount),),
                    forces=(
                        supply.Force(key="shipment", name="shipment", faction=faction, region=order.to, need=amount),
                    ),
                    contested=contested,
                )
            ),
        )
        for each in told.deliveries:
            arrived += each.arrived
            w.book("moved", order.origin, faction, -each.arrived, order.to)
            w.book("moved", order.to, faction, each.arrived, order.origin)
            w.book("spoilt", order.origin, faction, -each.spoilt, order.to)
    w.note(
        "sent",
        known="side",
        region=order.to,
        faction=faction,
        origin=order.origin,
        to=order.to,
        amount=order.amount,
        arrived_x100=arrived,
    )
    return _narrowed(roads, {each.road: each.loads for each in told.roads}) if told else roads


# Paying without carrying: recruits come to the stock by themselves, and so does what a battle uses.


def open_to(w: Working, faction: str, contested: frozenset[str]) -> frozenset[str]:
    """Regions of one's own side and of nobody's, none of them fought over."""
    return frozenset(
        region
        for region in w.chart.regions
        if region not in contested and ((holder := w.control.get(region)) is None or not w.hostile(holder, faction))
    )


def in_reach(w: Working, faction: str, start: str) -> list[tuple[str, int]]:
    """The faction's stocks that are joined to a region, the nearest first by number of roads: where, and how much in
    hundredths of a load. What lies in the region itself always is."""
    own = {region for (region, owner), amount in w.balances.items() if owner == faction and amount > 0}
    ground = open_to(w, faction, w.contested())
    found, seen, ring = [], {start}, [start]
    while ring:
        found += [(region, w.stock(region, faction)) for region in ring if region in own]
        beyond = {road.other(here) for here in ring for road in w.chart.roads_at.get(here, ())}
        ring = sorted((beyond & ground) - seen)
        seen.update(ring)
    return found


def draw(
    w: Working, faction: str, start: str, amount_x100: int, *, kind: Literal["spent", "fought"], about: str
) -> int:
    """Take so much from the nearest stocks, as far as there is any; what was taken."""
    left = amount_x100
    for region, there in in_reach(w, faction, start):
        if left <= 0:
            break
        part = min(left, there)
        w.book(kind, region, faction, -part, about)
        left -= part
    return amount_x100 - left
