"""A flow taken apart: which loads came from which stock, and by which roads."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from league.engines.maps import Road
from league.engines.supply.flow import Whole
from league.engines.supply.ground import Ground
from league.engines.supply.model import HUNDRED, Delivery, Force, Step

__all__ = ["deliveries_of"]


@dataclass(kw_only=True, slots=True)
class _Traffic:
    """Loads on a road that no delivery accounts for yet."""

    road: Road
    start: str
    end: str
    loads: int


def deliveries_of(ground: Ground, flow: Whole) -> tuple[Delivery, ...]:
    """Deliveries that add up to the flow: forces in their order, each from the stock it stands on before any other.

    An optimal flow has no circles, so walking back along it from a force ends at a stock. Each walk uses up a road, a
    stock or a need, so there are no more deliveries than those together.
    """
    loads = [int(each) for each in flow]
    roads = len(ground.stocks) + len(ground.ways)
    lying = dict(zip(ground.stocks, loads, strict=False))
    coming: defaultdict[str, list[_Traffic]] = defaultdict(list)
    for (road, start, end), count in zip(ground.ways, loads[len(ground.stocks) :], strict=False):
        if count:
            coming[end].append(_Traffic(road=road, start=start, end=end, loads=count))
    return tuple(
        delivery
        for force, need in zip(ground.forces, loads[roads:], strict=True)
        for delivery in _to(force, need, lying, coming)
    )


def _to(force: Force, need: int, lying: dict[str, int], coming: dict[str, list[_Traffic]]) -> Iterator[Delivery]:
    while need:
        here, back = force.region, list[_Traffic]()
        while not lying.get(here):
            back.append(next(each for each in coming[here] if each.loads))
            here = back[-1].start
        loads = min([need, lying[here], *(each.loads for each in back)])
        need -= loads
        lying[here] -= loads
        for each in back:
            each.loads -= loads
        yield Delivery(
            faction=force.faction,
            stock=here,
            force=force.key,
            loads=loads,
            steps=tuple(Step(road=each.road.key, start=each.start, end=each.end) for each in reversed(back)),
            loss=min(HUNDRED, sum(each.road.loss for each in back)),
        )
