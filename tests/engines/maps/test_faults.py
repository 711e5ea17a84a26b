from __future__ import annotations

import itertools

from league.engines.maps import Faction, Map, Region, Road, faults_of


def region(key: str, **facts) -> Region:
    return Region(**{"key": key, "name": key.title(), "terrain": "open", "x": 10, "y": 20, **facts})


def vale(*roads: Road, regions=("ford", "mill", "tor"), **facts) -> Map:
    made = tuple(each if isinstance(each, Region) else region(each) for each in regions)
    return Map(**{"name": "The Vale", "regions": made, "roads": roads, **facts})


FORD_MILL = Road(key="1", a="ford", b="mill")
MILL_TOR = Road(key="2", a="mill", b="tor")


def codes(*args, **facts) -> list[str]:
    return [each.code for each in faults_of(*args, **facts)]


def test_a_sound_map_has_no_fault():
    assert faults_of(vale(FORD_MILL, MILL_TOR)) == ()


def test_an_island_nobody_reaches_is_named():
    [fault] = faults_of(vale(FORD_MILL))
    assert fault.text == "No road leads from the rest of the map to Tor."
    assert (fault.code, fault.part, fault.index, fault.severity) == ("island", "regions", 2, "not_ready")


def test_many_islanders_are_counted():
    keys = [f"isle{number}" for number in range(7)]
    ring = [Road(key=f"i{one}", a=one, b=other) for one, other in itertools.pairwise(keys)]
    main = [region(f"main{number}") for number in range(8)]
    land = [Road(key=f"m{n}", a=f"main{n}", b=f"main{n + 1}") for n in range(7)]
    [fault] = faults_of(vale(*ring, *land, regions=(*keys, *main)))
    assert fault.text.endswith("Isle0, Isle1, Isle2, Isle3, Isle4 and 2 more.")


def test_a_road_to_itself_is_a_fault():
    [fault] = faults_of(vale(Road(key="1", a="ford", b="ford"), MILL_TOR))
    assert fault.text == "The road 1 leads from Ford to itself."
    assert (fault.part, fault.index, fault.field) == ("roads", 0, "b")


def test_a_road_to_nowhere_is_a_fault():
    [fault] = faults_of(vale(FORD_MILL, Road(key="2", a="mill", b="moon")))
    assert fault.text == "The road 2 leads to moon, which is no region of the map."


def test_two_roads_with_one_key_are_both_named():
    faults = faults_of(vale(FORD_MILL, Road(key="1", a="mill", b="tor")))
    assert [(each.code, each.index) for each in faults] == [("key_twice", 0), ("key_twice", 1)]


def test_two_roads_between_the_same_regions_are_no_fault():
    assert faults_of(vale(FORD_MILL, MILL_TOR, Road(key="3", a="tor", b="mill", kind="river"))) == ()


def test_names_that_sound_alike_are_a_fault():
    faults = faults_of(vale(FORD_MILL, MILL_TOR, regions=("ford", "mill", region("tor", name=" FORD "))))
    assert {each.text for each in faults} == {"2 regions are called Ford.", "2 regions are called FORD."}


def test_a_sea_lane_joins_ports_only():
    lane = Road(key="3", a="ford", b="tor", kind="sea_lane")
    faults = faults_of(vale(FORD_MILL, MILL_TOR, lane, regions=(region("ford", port=True), "mill", "tor")))
    assert [each.text for each in faults] == ["The road 3 is a sea lane, but Tor is no port."]


def test_what_is_out_of_range_is_named_with_its_range():
    odd = region("ford", x=-1, y=1001, produces=-2, worth=1_000_001)
    road = Road(key="1", a="ford", b="mill", capacity=-1, loss=101, kind="tunnel")
    assert [(each.key, each.field) for each in faults_of(vale(road, MILL_TOR, regions=(odd, "mill", "tor")))] == [
        ("ford", "x"),
        ("ford", "y"),
        ("ford", "produces"),
        ("ford", "worth"),
        ("1", "kind"),
        ("1", "capacity"),
        ("1", "loss"),
    ]


def test_what_has_no_key_or_name_is_told_by_its_number():
    faults = faults_of(vale(Road(key="", a="ford", b="mill"), MILL_TOR, regions=("ford", "mill", region("", name=" "))))
    assert [each.text for each in faults][:3] == [
        "The region #3 has no key.",
        "The region #3 has no name.",
        "The road #1 has no key.",
    ]


def test_a_map_without_regions_is_not_ready():
    assert codes(Map(name="Blank", regions=(), roads=())) == ["empty"]


def test_a_map_without_a_name_is_broken():
    assert codes(vale(FORD_MILL, MILL_TOR, name="  ")) == ["no_name"]


NORTH, SOUTH = Faction(key="north", name="North"), Faction(key="south", name="South")


def test_a_faction_needs_a_region_a_source_and_where_they_count_a_stronghold():
    land = vale(FORD_MILL, MILL_TOR, regions=(region("ford", produces=3), "mill", region("tor", stronghold=True)))
    told = faults_of(land, factions=[NORTH, SOUTH], holders={"ford": "north", "mill": "north"}, strongholds=True)
    assert [each.text for each in told] == ["No stronghold is held by North.", "No region is held by South."]
    told = faults_of(land, factions=[NORTH], holders={"tor": "north"})
    assert [each.text for each in told] == ["No source of supply is held by North."]


def test_an_unknown_holder_and_an_unknown_holding_are_faults():
    told = faults_of(vale(FORD_MILL, MILL_TOR), factions=[NORTH], holders={"moon": "north", "tor": "west"})
    assert [each.text for each in told] == [
        "north is said to hold moon, which is no region of the map.",
        "tor is said to be held by west, which is no faction.",
    ]


def test_two_factions_of_one_key_or_name_are_faults():
    twins = [NORTH, Faction(key="north", name="north")]
    assert codes(vale(FORD_MILL, MILL_TOR), factions=twins) == ["key_twice"] * 2 + ["name_twice"] * 2
