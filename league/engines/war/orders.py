"""What is wrong with a faction's orders, everything at once, in words the player understands."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import replace

from league.engines.rulesets import Violation, gettext_noop
from league.engines.strength import RosterUnit
from league.engines.war.model import (
    BuildDepot,
    Campaign,
    DigIn,
    Hold,
    Move,
    Order,
    OrderSet,
    Rebuild,
    Replacement,
    SendSupply,
)
from league.engines.war.prices import cost_x100, may_rebuild_in
from league.engines.war.state import ForceState, TurnState
from league.engines.war.working import HUNDRED, chart_of

__all__ = ["by_order", "check"]

OF_A_FORCE = (Move, Hold, DigIn, Rebuild)


def check(campaign: Campaign, state: TurnState, orders: OrderSet) -> tuple[Violation, ...]:
    """Everything that is wrong with a set of orders for the turn being planned. Empty: it is legal.

    Nothing said here tells more than the faction may know: a force of another's and a force that does not exist are
    refused in the same words. `place` is `orders[3]`, `importance[0]`, or empty for the whole set.
    """
    return (
        *_of_the_set(campaign, state, orders),
        *(each for found in by_order(campaign, state, orders).values() for each in found),
    )


def by_order(campaign: Campaign, state: TurnState, orders: OrderSet) -> Mapping[int, tuple[Violation, ...]]:
    """What is wrong with each order, by its place in the set; orders with nothing wrong are left out."""
    desk = _Desk(campaign, state, orders)
    found: dict[int, tuple[Violation, ...]] = {}
    for number, order in enumerate(orders.orders):
        wrong = tuple(replace(each, place=f"orders[{number}]") for each in desk.faults(order))
        if wrong:
            found[number] = wrong
    return found


def _of_the_set(campaign: Campaign, state: TurnState, orders: OrderSet) -> Iterator[Violation]:
    if campaign.faction(orders.faction) is None:
        words = gettext_noop("There is no faction %(faction)s in this campaign.")
        yield Violation(code="unknown_faction", message=words, args={"faction": orders.faction})
    if state.ended:
        yield Violation(code="war_over", message=gettext_noop("The war is over; there is nothing left to order."))
    elif state.phase != "orders" or state.turn != orders.turn:
        words = gettext_noop("Turn %(turn)s takes no orders now.")
        yield Violation(code="not_now", message=words, args={"turn": orders.turn})
    times = Counter(orders.importance)
    for number, key in enumerate(orders.importance):
        place = f"importance[{number}]"
        force = state.forces.get(key)
        if force is None or force.faction != orders.faction:
            yield _no_force(key, place)
        elif times[key] > 1:
            words = gettext_noop("%(force)s stands more than once in the order of supply.")
            yield Violation(code="importance_twice", message=words, args={"force": force.name}, place=place)


def _no_force(key: str, place: str = "") -> Violation:
    words = gettext_noop("You have no force %(force)s.")
    return Violation(code="no_such_force", message=words, args={"force": key}, place=place)


class _Desk:
    """One faction's set laid out beside the map."""

    def __init__(self, campaign: Campaign, state: TurnState, orders: OrderSet) -> None:
        self.campaign, self.state, self.faction = campaign, state, orders.faction
        self.rules, self.chart = campaign.rules, chart_of(state.map)
        self.times = Counter(each.force for each in orders.orders if isinstance(each, OF_A_FORCE))
        self.building = Counter(each.region for each in orders.orders if isinstance(each, BuildDepot))
        self.asked: dict[str, int] = defaultdict(int)
        for each in orders.orders:
            if isinstance(each, SendSupply):
                self.asked[each.origin] += max(0, each.amount)

    def name(self, region: str) -> str:
        place = self.chart.regions.get(region)
        return place.name if place else region

    def faults(self, order: Order) -> Iterator[Violation]:
        if isinstance(order, BuildDepot):
            yield from self._depot(order)
        elif isinstance(order, SendSupply):
            yield from self._send(order)
        else:
            force = self.state.forces.get(order.force)
            if force is None or force.faction != self.faction or force.gone:
                yield _no_force(order.force)
                return
            if self.times[order.force] > 1:
                words = gettext_noop("%(force)s has more than one order; it can carry out one a turn.")
                yield Violation(code="two_orders", message=words, args={"force": force.name})
            if force.battle and not isinstance(order, Hold):
                words = gettext_noop("%(force)s is locked in battle until it is fought.")
                yield Violation(code="locked", message=words, args={"force": force.name})
            if isinstance(order, Move):
                yield from self._move(order, force)
            elif isinstance(order, Rebuild):
                yield from self._rebuild(order, force)

    def _move(self, order: Move, force: ForceState) -> Iterator[Violation]:
        args: dict[str, object] = {"force": force.name}
        if not self.rules.hardship(force.condition).may_move:
            words = gettext_noop("%(force)s cannot move: it got too little supply last turn.")
            yield Violation(code="too_hungry_to_move", message=words, args=args)
        if not order.roads:
            words = gettext_noop("%(force)s is told to move, but not by which road.")
            yield Violation(code="no_road", message=words, args=args)
        if len(order.roads) > force.pace:
            words = gettext_noop("%(force)s can follow %(pace)s roads in a turn, not %(roads)s.")
            yield Violation(code="too_far", message=words, args={**args, "pace": force.pace, "roads": len(order.roads)})
        here = force.region
        for key in order.roads:
            road = self.chart.roads.get(key)
            if road is None:
                words = gettext_noop("%(force)s: there is no road %(road)s on the map.")
                yield Violation(code="unknown_road", message=words, args={**args, "road": key})
                return
            if here not in (road.a, road.b):
                words = gettext_noop(
                    "%(force)s cannot go by the road from %(a)s to %(b)s: it does not begin in %(here)s."
                )
                names = {"a": self.name(road.a), "b": self.name(road.b), "here": self.name(here)}
                yield Violation(code="road_elsewhere", message=words, args={**args, **names})
                return
            here = road.other(here)

    def _rebuild(self, order: Rebuild, force: ForceState) -> Iterator[Violation]:
        args: dict[str, object] = {"force": force.name}
        if not self.rules.hardship(force.condition).may_rebuild:
            words = gettext_noop("%(force)s cannot take in recruits: it got too little supply last turn.")
            yield Violation(code="too_hungry_to_rebuild", message=words, args=args)
        if not may_rebuild_in(self.campaign, self.state, force):
            words = gettext_noop("%(force)s cannot take in recruits in %(region)s.")
            yield Violation(code="no_recruits_here", message=words, args={**args, "region": self.name(force.region)})
        if not order.replacements:
            words = gettext_noop("%(force)s is to rebuild, but no recruits are asked for.")
            yield Violation(code="no_recruits", message=words, args=args)
        units = {each.id: each for each in force.units}
        times = Counter(each.unit_id for each in order.replacements)
        for each in order.replacements:
            if each.unit_id in units:
                yield from self._recruits(each, force, units[each.unit_id], times[each.unit_id])
            else:
                words = gettext_noop("%(force)s has no unit %(unit)s.")
                told: dict[str, object] = {**args, "unit": each.unit_id}
                yield Violation(code="no_such_unit", message=words, args=told, unit_id=each.unit_id)
        cost, owned = cost_x100(self.rules, order, units), self._owned()
        if cost > owned:
            words = gettext_noop("%(force)s: the recruits cost %(cost)s loads, and you have %(owned)s.")
            short: dict[str, object] = {**args, "cost": loads(cost), "owned": loads(owned)}
            yield Violation(code="supply_not_there", message=words, args=short)

    def _recruits(self, each: Replacement, force: ForceState, unit: RosterUnit, times: int) -> Iterator[Violation]:
        told: dict[str, object] = {"force": force.name, "unit": each.unit_id, "figures": each.figures}

        def fault(code: str, words: str, **more: object) -> Violation:
            return Violation(code=code, message=words, args={**told, **more}, unit_id=each.unit_id)

        if times > 1:
            words = gettext_noop("%(force)s: recruits for the unit %(unit)s are asked for more than once.")
            yield fault("unit_twice", words)
        if each.figures < 1:
            words = gettext_noop("%(force)s: %(figures)s recruits for the unit %(unit)s are none.")
            yield fault("too_few_recruits", words)
        free = force.states[each.unit_id].lost
        if each.figures > free:
            words = gettext_noop("%(force)s: the unit %(unit)s has %(free)s places free, not %(figures)s.")
            yield fault("no_place", words, free=free)
        if self.rules.price_x100(unit.unit_class, unit.quality) is None:
            words = gettext_noop("%(force)s: there are no recruits for a unit such as %(unit)s.")
            yield fault("not_for_sale", words)

    def _owned(self) -> int:
        return sum(amount for (_, faction), amount in self.state.balances.items() if faction == self.faction)

    def _depot(self, order: BuildDepot) -> Iterator[Violation]:
        region = self.chart.regions.get(order.region)
        args: dict[str, object] = {"region": self.name(order.region)}
        if region is None:
            words = gettext_noop("There is no region %(region)s on the map.")
            yield Violation(code="unknown_region", message=words, args=args)
            return
        if self.state.control.get(order.region) != self.faction:
            words = gettext_noop("%(region)s is not yours.")
            yield Violation(code="not_yours", message=words, args=args)
        elif order.region in self.state.contested:
            words = gettext_noop("%(region)s is being fought over; no depot can be built there.")
            yield Violation(code="contested", message=words, args=args)
        elif order.region in self.state.depots:
            words = gettext_noop("%(region)s has a depot already.")
            yield Violation(code="depot_there", message=words, args=args)
        if not self.rules.ground(region.terrain).depot:
            words = gettext_noop("No depot may be built in %(region)s: the ground does not allow it.")
            yield Violation(code="no_depot_here", message=words, args=args)
        if self.building[order.region] > 1:
            words = gettext_noop("A depot in %(region)s is ordered more than once.")
            yield Violation(code="depot_twice", message=words, args=args)
        most = self.rules.depots_most
        wanted = len(self.building) + sum(faction == self.faction for faction in self.state.depots.values())
        if most is not None and wanted > most:
            words = gettext_noop("A depot in %(region)s: you may have %(most)s depots, and this would make %(wanted)s.")
            yield Violation(code="too_many_depots", message=words, args={**args, "most": most, "wanted": wanted})
        cost, owned = self.rules.depot_price * HUNDRED * len(self.building), self._owned()
        if cost > owned:
            words = gettext_noop("The depots you order cost %(cost)s loads, and you have %(owned)s.")
            told: dict[str, object] = {"cost": loads(cost), "owned": loads(owned)}
            yield Violation(code="supply_not_there", message=words, args=told)

    def _send(self, order: SendSupply) -> Iterator[Violation]:
        args: dict[str, object] = {"origin": self.name(order.origin), "to": self.name(order.to), "amount": order.amount}
        for key in (order.origin, order.to):
            if key not in self.chart.regions:
                words = gettext_noop("There is no region %(region)s on the map.")
                yield Violation(code="unknown_region", message=words, args={"region": key})
        if order.amount < 1:
            words = gettext_noop("From %(origin)s to %(to)s: %(amount)s loads are none.")
            yield Violation(code="nothing_sent", message=words, args=args)
        if order.origin == order.to:
            words = gettext_noop("%(origin)s cannot send supply to itself.")
            yield Violation(code="to_itself", message=words, args=args)
        if not self._keeps(order.to) and order.to not in self.building:
            words = gettext_noop("You have no depot and no source of supply in %(to)s.")
            yield Violation(code="no_depot", message=words, args=args)
        there = self._there(order.origin)
        if self.asked[order.origin] > there:
            words = gettext_noop("You want to send %(asked)s loads out of %(origin)s, and there are %(there)s.")
            told = {**args, "asked": self.asked[order.origin], "there": there}
            yield Violation(code="supply_not_there", message=words, args=told)

    def _keeps(self, region: str) -> bool:
        place = self.chart.regions.get(region)
        source = bool(place and place.produces and self.state.control.get(region) == self.faction)
        return source or self.state.depots.get(region) == self.faction

    def _there(self, region: str) -> int:
        """Whole loads, with what the region will yield this turn."""
        place = self.chart.regions.get(region)
        held = self.state.balances.get((region, self.faction), 0) // HUNDRED
        mine = place is not None and self.state.control.get(region) == self.faction
        return held + (place.produces if place and mine else 0)


def loads(amount_x100: int) -> str:
    """Hundredths of a load as a number of loads, without needless noughts."""
    whole, part = divmod(amount_x100, HUNDRED)
    return f"{whole}.{part:02}".rstrip("0").rstrip(".") if part else str(whole)
