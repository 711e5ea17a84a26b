"""Stock carried from one depot to another, on what the forces left of stocks and roads."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from league.engines.supply.check import check_sendings
from league.engines.supply.ground import ground_of
from league.engines.supply.model import Delivery, Distribution, Force, Sending, Sent, Situation, Stock
from league.engines.supply.paths import deliveries_of
from league.engines.supply.simplex import least_cost_flow

__all__ = ["send"]


def send(situation: Situation, distribution: Distribution, sendings: Sequence[Sending]) -> tuple[Sent, ...]:
    """Carry out the sendings in the order given, each as far as it can be: the most loads, then the least loss.

    A sending takes from what its stock keeps after `distribution` and the sendings before it, not from what they
    bring, and travels on what they left of the roads. It ends in a region where the faction may pass.

    Raises:
        BadSituation: with everything that is wrong with the sendings.
    """
    check_sendings(sendings, situation)
    carried = Counter[tuple[str, str]]()
    for each in distribution.roads:
        carried[each.faction, each.road] += each.loads
    kept = {(each.faction, each.region): each.kept for each in distribution.stocks}
    found = []
    for sending in sendings:
        deliveries = _carry(situation, sending, carried, kept.get((sending.faction, sending.origin), 0))
        loads = sum(each.loads for each in deliveries)
        found.append(
            Sent(
                key=sending.key,
                faction=sending.faction,
                origin=sending.origin,
                to=sending.to,
                asked=sending.loads,
                loads=loads,
                arrived=sum(each.arrived for each in deliveries),
                spoilt=sum(each.spoilt for each in deliveries),
                deliveries=deliveries,
            )
        )
        if loads:
            kept[sending.faction, sending.origin] -= loads
        for delivery in deliveries:
            for step in delivery.steps:
                carried[sending.faction, step.road] += delivery.loads
    return tuple(found)


def _carry(
    situation: Situation, sending: Sending, carried: Counter[tuple[str, str]], kept: int
) -> tuple[Delivery, ...]:
    """The same flow as for a force, with one stock and one need on what is left of the roads."""
    closed = sending.to in situation.contested or not situation.welcome(sending.to, sending.faction)
    if closed or not kept:
        return ()
    left = tuple(
        replace(each, capacity=each.capacity - carried[sending.faction, each.key]) for each in situation.map.roads
    )
    target = Force(
        key=sending.key, name=sending.key, faction=sending.faction, region=sending.to, need=min(kept, sending.loads)
    )
    alone = replace(
        situation,
        map=replace(
            situation.map, roads=left, regions=tuple(replace(each, produces=0) for each in situation.map.regions)
        ),
        stocks=(Stock(region=sending.origin, faction=sending.faction, loads=kept),),
        forces=(target,),
    )
    ground = ground_of(alone, sending.faction)
    return deliveries_of(ground, least_cost_flow(ground.network))
