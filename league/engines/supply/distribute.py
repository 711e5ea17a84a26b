"""A turn's supply: every load to where it counts for most, at the least loss, and why no more."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from league.engines.supply.check import check_situation
from league.engines.supply.cuts import Cuts
from league.engines.supply.flow import Whole
from league.engines.supply.ground import Ground, ground_of
from league.engines.supply.model import (
    Delivery,
    Distribution,
    Force,
    ForceSupply,
    RoadUse,
    Situation,
    StockUse,
    SupplyState,
)
from league.engines.supply.paths import deliveries_of
from league.engines.supply.simplex import least_cost_flow

__all__ = ["distribute"]


def distribute(situation: Situation) -> Distribution:
    """What each force gets, from where, by which roads, and what keeps it from more.

    Each faction by itself: the most loads to its forces of first importance, then to those of the next, and so on; of
    all ways to do that, the least loss in all, then the fewest steps. The same situation gives the same answer
    in whatever order its parts are listed.

    Raises:
        BadSituation: with every reason.
    """
    check_situation(situation)
    parts = [_of(ground_of(situation, faction)) for faction in sorted(situation.factions)]
    return Distribution(
        forces=tuple(each for part in parts for each in part.forces),
        deliveries=tuple(each for part in parts for each in part.deliveries),
        stocks=tuple(each for part in parts for each in part.stocks),
        roads=tuple(each for part in parts for each in part.roads),
    )


def _of(ground: Ground) -> Distribution:
    flow = least_cost_flow(ground.network)
    deliveries = deliveries_of(ground, flow)
    return Distribution(
        forces=tuple(_forces(ground, flow, deliveries)),
        deliveries=deliveries,
        stocks=tuple(_stocks(ground, deliveries)),
        roads=tuple(_roads(ground, flow)),
    )


def _forces(ground: Ground, flow: Whole, deliveries: Sequence[Delivery]) -> Iterator[ForceSupply]:
    cuts = Cuts(ground, flow)
    arrived: Counter[str] = Counter()
    for each in deliveries:
        arrived[each.force] += each.arrived
    for force in ground.forces:
        state = _state(force, cuts)
        yield ForceSupply(
            force=force.key,
            faction=force.faction,
            state=state,
            need=force.need,
            loads=cuts.fed[force.key],
            arrived=arrived[force.key],
            why=None if state == "supplied" else cuts.of(force),
        )


def _state(force: Force, cuts: Cuts) -> SupplyState:
    if cuts.fed[force.key] == force.need:
        return "supplied"
    return "short" if force.region in cuts.supplied else "cut_off"


def _stocks(ground: Ground, deliveries: Sequence[Delivery]) -> Iterator[StockUse]:
    sent: defaultdict[str, list[Delivery]] = defaultdict(list)
    for each in deliveries:
        sent[each.stock].append(each)
    for region in ground.stocks:
        yield StockUse(
            faction=ground.faction,
            region=region,
            held=ground.held.get(region, 0),
            produced=ground.produced.get(region, 0),
            sent=sum(each.loads for each in sent[region]),
            arrived=sum(each.arrived for each in sent[region]),
            spoilt=sum(each.spoilt for each in sent[region]),
        )


def _roads(ground: Ground, flow: Whole) -> Iterator[RoadUse]:
    for (road, start, end), loads in zip(ground.ways, flow[len(ground.stocks) :], strict=False):
        if loads:
            yield RoadUse(
                faction=ground.faction,
                road=road.key,
                start=start,
                end=end,
                loads=int(loads),
                capacity=road.capacity,
            )
