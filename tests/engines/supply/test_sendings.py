"""Stock sent from depot to depot, on what the forces left."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.supply import BadSituation, Sending, distribute, send
from tests.engines.supply.wars import force, road, stock, war, war_at_random


def sending(start: str, end: str, loads: int, *, key: str = "wagons", faction: str = "north") -> Sending:
    return Sending(key=key, faction=faction, origin=start, to=end, loads=loads)


def sent(situation, *sendings):
    return send(situation, distribute(situation), sendings)


def test_a_sending_leaves_in_whole_loads_and_loses_hundredths_on_the_way():
    [told] = sent(war([road("a-b", loss=5)], stocks=[stock("a", 12)]), sending("a", "b", 10))
    assert (told.loads, told.arrived, told.spoilt) == (10, 950, 50)


def test_forces_are_fed_before_stock_is_sent():
    situation = war([road("a-b", capacity=6, loss=0)], stocks=[stock("a", 9)], forces=[force("first", "b", 4)])
    [told] = sent(situation, sending("a", "b", 9))
    assert (told.asked, told.loads) == (9, 2)


def test_an_earlier_sending_comes_before_a_later_one():
    situation = war([road("a-b", capacity=5, loss=0)], stocks=[stock("a", 9)])
    told = sent(situation, sending("a", "b", 4, key="one"), sending("a", "b", 4, key="two"))
    assert [each.loads for each in told] == [4, 1]


def test_what_a_sending_brings_is_not_sent_on_the_same_turn():
    situation = war([road("a-b", loss=0), road("b-c", loss=0)], stocks=[stock("a", 3), stock("b", 1)])
    told = sent(situation, sending("a", "b", 3, key="one"), sending("b", "c", 4, key="two"))
    assert [each.loads for each in told] == [3, 1]


def test_stock_is_not_sent_through_or_to_the_enemy():
    roads = [road("a-b"), road("b-c")]
    situation = war(roads, stocks=[stock("a", 5)], enemy=["b"])
    told = sent(situation, sending("a", "b", 1, key="one"), sending("a", "c", 1, key="two"))
    assert [each.loads for each in told] == [0, 0]


def test_stock_is_not_sent_into_a_fight():
    assert sent(war([road("a-b")], stocks=[stock("a", 5)], contested=["b"]), sending("a", "b", 1))[0].loads == 0


def test_stock_that_is_not_there_is_not_sent():
    assert sent(war([road("a-b")]), sending("a", "b", 1))[0].loads == 0


def test_what_a_source_yields_may_be_sent_on():
    assert sent(war([road("a-b")], sources={"a": 3}), sending("a", "b", 5))[0].loads == 3


WISH = st.tuples(st.integers(0, 8), st.integers(0, 8), st.integers(1, 9)).filter(lambda wish: wish[0] != wish[1])


def test_everything_wrong_with_sendings_is_said_at_once():
    with pytest.raises(BadSituation) as failure:
        sent(war([road("a-b")]), sending("a", "a", 0, key=""), sending("a", "moon", 1, faction="west"))
    assert [f"{each.place}: {each.text}" for each in failure.value.violations] == [
        "sendings[0].key: This has no key.",
        "sendings[0].loads: This must be from 1 to 1000000; it is 0.",
        "sendings[0].to: a cannot send supply to itself.",
        "sendings[1].faction: There is no faction west.",
        "sendings[1].to: There is no region moon on the map.",
    ]


@given(st.integers(0, 10**9), st.lists(WISH, max_size=5))
@settings(max_examples=80, deadline=None)
def test_sendings_never_overload_a_road_or_overdraw_a_stock(seed, wishes):
    situation = war_at_random(seed, factions=1)
    found = distribute(situation)
    told = send(
        situation,
        found,
        [
            sending(f"r{start:03}", f"r{end:03}", loads, key=f"s{number}", faction="side0")
            for number, (start, end, loads) in enumerate(wishes)
        ],
    )
    capacity = {each.key: each.capacity for each in situation.map.roads}
    used = {each.road: each.loads for each in found.roads}
    kept = {each.region: each.kept for each in found.stocks}
    for each in told:
        assert each.loads * 100 == each.arrived + each.spoilt
        assert each.loads <= each.asked
        kept[each.origin] = kept.get(each.origin, 0) - each.loads
        for delivery in each.deliveries:
            for step in delivery.steps:
                used[step.road] = used.get(step.road, 0) + delivery.loads
    assert all(loads <= capacity[key] for key, loads in used.items())
    assert all(loads >= 0 for loads in kept.values())
