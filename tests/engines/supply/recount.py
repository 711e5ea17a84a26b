"""A distribution counted again from its deliveries: what must hold of any, whatever the war."""

from __future__ import annotations

from collections import Counter

from league.engines.supply import Distribution, Situation


def losses(found: Distribution, faction: str) -> int:
    """Hundredths of a load, without the limit of a whole load."""
    return sum(each.loads * each.loss for each in found.deliveries if each.faction == faction)


def met(found: Distribution, situation: Situation, faction: str) -> dict[int, int]:
    importance = {each.key: each.importance for each in situation.forces}
    told: Counter[int] = Counter()
    for each in found.forces:
        if each.faction == faction:
            told[importance[each.force]] += each.loads
    return {level: told[level] for level in sorted(told)}


def check(found: Distribution, situation: Situation) -> None:
    """Conservation, capacity, blocks: each load that arrives left a stock and travelled open roads."""
    check_forces(found)
    check_stocks(found, situation)
    check_ways(found, situation)
    check_reasons(found, situation)


def check_forces(found: Distribution) -> None:
    for each in found.forces:
        mine = [delivery for delivery in found.deliveries if delivery.force == each.force]
        assert each.loads == sum(delivery.loads for delivery in mine) <= each.need
        assert each.arrived == sum(delivery.arrived for delivery in mine)
        assert (each.state == "supplied") == (each.loads == each.need) == (each.why is None)
        assert each.state != "cut_off" or each.loads == 0
    assert all(each.loads > 0 for each in found.deliveries)


def check_stocks(found: Distribution, situation: Situation) -> None:
    held = {(each.faction, each.region): each.loads for each in situation.stocks}
    yields = {each.key: each.produces for each in situation.map.regions}
    for each in found.stocks:
        mine = [one for one in found.deliveries if (one.faction, one.stock) == (each.faction, each.region)]
        assert each.held == held.pop((each.faction, each.region), 0)
        assert each.produced in {0, yields[each.region]}
        assert each.sent == sum(one.loads for one in mine)
        assert each.kept >= 0
        assert (each.held + each.produced) * 100 == each.arrived + each.spoilt + each.kept * 100
        assert each.spoilt == sum(one.spoilt for one in mine)
    assert not held


def check_ways(found: Distribution, situation: Situation) -> None:
    roads = {each.key: each for each in situation.map.roads}
    where = {each.key: each.region for each in situation.forces}
    carried: Counter[tuple[str, str, str, str]] = Counter()
    for each in found.deliveries:
        here, loss = each.stock, 0
        for step in each.steps:
            assert step.start == here
            assert {step.start, step.end} == {roads[step.road].a, roads[step.road].b}
            assert situation.holders.get(step.start, each.faction) == each.faction
            assert step.start not in situation.contested
            assert step.end in situation.contested or situation.holders.get(step.end, each.faction) == each.faction
            carried[each.faction, step.road, step.start, step.end] += each.loads
            here, loss = step.end, loss + roads[step.road].loss
        assert here == where[each.force]
        assert each.loss == min(100, loss)
    told = {(each.faction, each.road, each.start, each.end): each.loads for each in found.roads}
    assert told == carried
    assert len({(each.faction, each.road) for each in found.roads}) == len(found.roads)
    assert all(each.loads <= each.capacity == roads[each.road].capacity for each in found.roads)


def check_reasons(found: Distribution, situation: Situation) -> None:
    """Around each force in want lies a cut: nothing more can come in, and what came in went to nobody less important."""
    importance = {each.key: each.importance for each in situation.forces}
    where = {each.key: each.region for each in situation.forces}
    loads = {each.force: each.loads for each in found.forces}
    roads = {each.key: each for each in situation.map.roads}
    for each in found.forces:
        if each.why is None:
            continue
        inside = set(each.why.regions)
        assert where[each.force] in inside
        in_want = [one.force for one in found.forces if one.faction == each.faction and where[one.force] in inside]
        coming = [one for one in found.roads if one.faction == each.faction and one.end in inside - {one.start}]
        coming = [one for one in coming if one.start not in inside]
        assert {one.road for one in coming if one.loads} <= set(each.why.full_roads)
        assert all(one.full for one in coming)
        assert not [
            one for one in found.roads if one.faction == each.faction and one.start in inside and one.end not in inside
        ]
        lying = [one for one in found.stocks if one.faction == each.faction and one.region in inside]
        assert all(one.kept == 0 for one in lying)
        capacity = sum(roads[road].capacity for road in each.why.full_roads) + sum(one.sent for one in lying)
        assert each.why.loads == capacity == sum(loads[one] for one in in_want)
        assert all(importance[one] <= importance[each.force] for one in in_want if loads[one])
        assert set(each.why.shared_with) == {one for one in in_want if loads[one]} - {each.force}
