"""Supply in small wars, reckoned by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from league.engines.supply import BadSituation, Barrier, Step, distribute
from tests.engines.supply.wars import force, region, road, shuffled, stock, war, war_at_random


def test_a_force_is_supplied_from_the_stock_it_stands_on():
    found = distribute(war([road("a-b")], stocks=[stock("a", 5)], forces=[force("first", "a", 3)]))
    [delivery] = found.deliveries
    assert (delivery.stock, delivery.loads, delivery.steps, delivery.loss) == ("a", 3, (), 0)
    assert found.force("first").state == "supplied"
    assert found.stocks[0].kept == 2


def test_each_load_loses_its_share_on_every_step():
    found = distribute(
        war([road("a-b", loss=5), road("b-c", loss=7)], stocks=[stock("a", 9)], forces=[force("first", "c", 4)])
    )
    [delivery] = found.deliveries
    assert delivery.steps == (Step(road="a-b", start="a", end="b"), Step(road="b-c", start="b", end="c"))
    assert (delivery.spoilt, delivery.arrived) == (48, 352)
    [line] = found.stocks
    assert (line.held, line.sent, line.kept, line.arrived, line.spoilt) == (9, 4, 5, 352, 48)


def test_a_load_loses_no_more_than_itself():
    roads = [road("a-b", loss=60), road("b-c", loss=60)]
    [delivery] = distribute(war(roads, stocks=[stock("a", 1)], forces=[force("first", "c", 1)])).deliveries
    assert (delivery.loss, delivery.arrived) == (100, 0)


def test_a_source_yields_to_its_holder_what_it_produces():
    roads = [road("a-b"), road("b-c")]
    situation = war(roads, sources={"a": 6, "c": 4}, enemy=["c"], forces=[force("first", "b", 9)])
    assert distribute(situation).force("first").loads == 6


def test_a_source_nobody_holds_yields_nothing():
    situation = war([road("a-b")], sources={"a": 6}, unheld=["a"], forces=[force("first", "b", 2)])
    assert distribute(situation).force("first").loads == 0


def test_a_contested_source_yields_nothing():
    situation = war([road("a-b")], sources={"a": 6}, contested=["a"], forces=[force("first", "a", 2)])
    assert distribute(situation).force("first").loads == 0


def test_the_more_important_force_eats_first():
    forces = [force("rear", "b", 4, importance=2), force("guard", "c", 4, importance=1)]
    found = distribute(war([road("a-b"), road("b-c")], stocks=[stock("a", 5)], forces=forces))
    assert [(each.force, each.loads, each.state) for each in found.forces] == [
        ("guard", 4, "supplied"),
        ("rear", 1, "short"),
    ]
    assert found.force("rear").why.spent == ("a",)
    assert found.force("rear").why.shared_with == ("guard",)


def test_importance_goes_before_any_loss():
    roads = [road("a-near", loss=0), road("a-far", loss=100)]
    forces = [force("near", "near", 1, importance=2), force("far", "far", 1, importance=1)]
    found = distribute(war(roads, stocks=[stock("a", 1)], forces=forces))
    assert (found.force("far").loads, found.force("near").loads) == (1, 0)


def test_among_equals_the_least_is_lost():
    roads = [road("a-near", loss=1), road("a-far", loss=9)]
    forces = [force("near", "near", 3), force("far", "far", 3)]
    found = distribute(war(roads, stocks=[stock("a", 4)], forces=forces))
    assert (found.force("near").loads, found.force("far").loads) == (3, 1)


def test_a_full_road_is_named_as_the_reason():
    found = distribute(war([road("a-b", capacity=3)], stocks=[stock("a", 9)], forces=[force("first", "b", 8)]))
    told = found.force("first")
    assert (told.state, told.loads) == ("short", 3)
    assert told.why.full_roads == ("a-b",)
    assert (told.why.regions, told.why.loads, told.why.spent) == (("b",), 3, ())
    assert found.roads[0].full


def test_a_way_round_a_full_road_is_taken_though_it_costs_more():
    roads = [road("a-b", capacity=3, loss=1), road("a-c", loss=9), road("c-b", loss=9)]
    found = distribute(war(roads, stocks=[stock("a", 9)], forces=[force("first", "b", 5)]))
    assert sorted((each.loads, each.loss) for each in found.deliveries) == [(2, 18), (3, 1)]


def test_of_two_ways_of_equal_loss_the_shorter_is_taken():
    roads = [road("a-b", loss=4), road("b-c", loss=4), road("a-c", loss=8)]
    [delivery] = distribute(war(roads, stocks=[stock("a", 2)], forces=[force("first", "c", 2)])).deliveries
    assert [step.road for step in delivery.steps] == ["a-c"]


def test_an_enemy_region_blocks_and_is_named():
    roads = [road("a-b"), road("b-c")]
    found = distribute(war(roads, stocks=[stock("a", 9)], forces=[force("first", "c", 2)], enemy=["b"]))
    told = found.force("first")
    assert told.state == "cut_off"
    assert told.why.barriers == (Barrier(region="b", holder="south", contested=False),)
    assert (told.why.regions, told.why.loads) == (("c",), 0)


def test_a_contested_region_blocks_those_behind_but_feeds_those_in_it():
    roads = [road("a-b"), road("b-c")]
    forces = [force("fights", "b", 2), force("behind", "c", 2)]
    found = distribute(war(roads, stocks=[stock("a", 9)], forces=forces, contested=["b"]))
    assert found.force("fights").state == "supplied"
    assert found.force("behind").state == "cut_off"
    assert found.force("behind").why.barriers == (Barrier(region="b", holder="north", contested=True),)


def test_a_stock_in_a_contested_region_feeds_only_those_who_fight_there():
    forces = [force("fights", "a", 2), force("waits", "b", 2)]
    found = distribute(war([road("a-b")], stocks=[stock("a", 9)], forces=forces, contested=["a"]))
    assert (found.force("fights").loads, found.force("waits").loads) == (2, 0)


def test_a_force_alone_on_enemy_ground_is_cut_off():
    found = distribute(war([road("a-b")], stocks=[stock("a", 9)], forces=[force("raid", "b", 2)], enemy=["b"]))
    assert found.force("raid").state == "cut_off"
    assert found.force("raid").why.barriers == (Barrier(region="b", holder="south", contested=False),)


def test_a_region_nobody_holds_does_not_block():
    roads = [road("a-b"), road("b-c")]
    found = distribute(war(roads, stocks=[stock("a", 9)], forces=[force("first", "c", 2)], unheld=["b"]))
    assert found.force("first").state == "supplied"


def test_a_blocking_region_with_nothing_behind_it_is_not_named():
    roads = [road("a-b"), road("c-d")]
    found = distribute(war(roads, stocks=[stock("a", 9)], forces=[force("first", "c", 2)], enemy=["d"]))
    assert found.force("first").why.barriers == ()


def test_an_empty_depot_makes_short_not_cut_off():
    found = distribute(war([road("a-b")], stocks=[stock("a", 0)], forces=[force("first", "b", 2)]))
    assert found.force("first").state == "short"


def test_a_road_carries_its_capacity_for_each_faction_that_may_use_it():
    roads = [road("a-m", capacity=9), road("b-m", capacity=9), road("m-n", capacity=2)]
    situation = war(
        roads,
        stocks=[stock("a", 5), stock("b", 5, faction="south")],
        forces=[force("first", "n", 5), force("other", "n", 5, faction="south")],
        enemy=["b"],
        unheld=["m", "n"],
    )
    assert [each.loads for each in distribute(situation).forces] == [2, 2]


def test_a_force_that_needs_nothing_is_supplied_wherever_it_is():
    found = distribute(war([road("a-b")], forces=[force("first", "b", 0)], enemy=["b"]))
    assert found.force("first").state == "supplied"


def test_the_order_of_the_lists_makes_no_difference():
    for seed in range(60):
        situation = war_at_random(seed, regions=12, forces=9)
        assert distribute(shuffled(situation, seed)) == distribute(situation)


def test_everything_wrong_is_said_at_once():
    situation = war(
        [road("a-b"), road("b-b"), road("a-b", capacity=-1)],
        stocks=[stock("a", -1), stock("a", 2), stock("nowhere", 1, faction="west")],
        forces=[force("first", "b", -2), force("first", "moon", 1, importance=0)],
        contested=["mars"],
    )
    situation = replace(situation, map=replace(situation.map, regions=(*situation.map.regions, region("a", x=2000))))
    with pytest.raises(BadSituation) as failure:
        distribute(situation)
    assert [f"{each.place}: {each.text}" for each in failure.value.violations] == [
        "map.regions[2].x: A lies off the map: x is 2000, and must be from 0 to 1000.",
        "map.regions[0].key: 2 regions have the key a.",
        "map.regions[2].key: 2 regions have the key a.",
        "map.regions[0].name: 2 regions are called A.",
        "map.regions[2].name: 2 regions are called A.",
        "map.roads[1].b: The road b-b leads from B to itself.",
        "map.roads[2].capacity: The road a-b carries -1, and that must be from 0 to 1000000.",
        "map.roads[0].key: 2 roads have the key a-b.",
        "map.roads[2].key: 2 roads have the key a-b.",
        "contested: mars is said to be contested, but is no region of the map.",
        "stocks[0]: north has 2 stocks in a, where one would hold it all.",
        "stocks[0].loads: This must be from 0 to 1000000; it is -1.",
        "stocks[1]: north has 2 stocks in a, where one would hold it all.",
        "stocks[2].faction: There is no faction west.",
        "stocks[2].region: There is no region nowhere on the map.",
        "forces[0].key: 2 of these have the key first.",
        "forces[1].key: 2 of these have the key first.",
        "forces[0].need: This must be from 0 to 1000000; it is -2.",
        "forces[1].region: There is no region moon on the map.",
        "forces[1].importance: This must be from 1 to 1000000; it is 0.",
    ]


def test_a_stock_in_the_enemys_hands_is_no_stock():
    with pytest.raises(BadSituation, match="but south holds the region"):
        distribute(war([road("a-b")], stocks=[stock("a", 2)], enemy=["a"]))


def test_friends_let_each_others_supply_pass_but_keep_what_their_sources_yield():
    roads = [road("a-b"), road("b-c")]
    situation = war(roads, stocks=[stock("a", 2)], forces=[force("first", "c", 9)], enemy=["b"], sources={"b": 6})
    friendly = replace(situation, friends={"north": frozenset({"south"})})
    assert distribute(situation).force("first").loads == 0
    assert distribute(friendly).force("first").loads == 2
