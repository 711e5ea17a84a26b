"""Tiny wars against every flow there is."""

from __future__ import annotations

from itertools import product

from league.engines.supply import Situation, distribute
from tests.engines.supply.recount import check, losses, met
from tests.engines.supply.wars import force, road, stock, war


def best(situation: Situation) -> tuple[list[int], int]:
    """What each importance gets at the most, the first first, and the least loss: by looking at all flows on the roads.

    All of North's regions are open, so each road may carry either way; a flow is given by what each road carries.
    """
    keys = [each.key for each in situation.map.regions]
    stocks = {each.region: each.loads for each in situation.stocks}
    ranks = sorted({each.importance for each in situation.forces})
    found = ([-1], 0)
    for flow in product(*(range(-each.capacity, each.capacity + 1) for each in situation.map.roads)):
        come = dict.fromkeys(keys, 0)
        for each, loads in zip(situation.map.roads, flow, strict=True):
            come[each.a] -= loads
            come[each.b] += loads
        for issued in product(*(range(stocks.get(key, 0) + 1) for key in keys)):
            left = {key: come[key] + issue for key, issue in zip(keys, issued, strict=True)}
            needs = {key: [each for each in situation.forces if each.region == key] for key in keys}
            if any(not 0 <= left[key] <= sum(each.need for each in needs[key]) for key in keys):
                continue
            got = dict.fromkeys(ranks, 0)
            for key in keys:
                for each in sorted(needs[key], key=lambda one: one.importance):
                    eaten = min(each.need, left[key])
                    got[each.importance] += eaten
                    left[key] -= eaten
            loss = sum(each.loss * abs(loads) for each, loads in zip(situation.map.roads, flow, strict=True))
            worth = ([got[rank] for rank in ranks], -loss)
            found = max(found, worth)
    return found[0], -found[1]


def test_no_flow_of_a_tiny_war_is_better():
    for number in range(40):
        turn = (number * 7 + 3) % 5
        roads = [
            road("a-b", capacity=1 + number % 2, loss=number % 3),
            road("b-c", capacity=1 + turn % 2, loss=1 + turn % 3),
            road("a-c", capacity=number % 3, loss=2 + number % 4),
            road("c-d", capacity=2, loss=turn),
        ]
        forces = [
            force("first", "d", 1 + turn % 3, importance=1 + number % 2),
            force("second", "b", 2, importance=1 + turn % 2),
            force("third", "c", 1 + number % 2, importance=2),
        ]
        situation = war(roads, stocks=[stock("a", 1 + number % 3), stock("d", turn % 2)], forces=forces)
        found = distribute(situation)
        check(found, situation)
        assert (list(met(found, situation, "north").values()), losses(found, "north")) == best(situation)
