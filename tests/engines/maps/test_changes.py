from __future__ import annotations

from dataclasses import replace

from league.engines.maps import Map, Region, Road, Standing, changes

REGIONS = tuple(Region(key=key, name=key.title(), terrain="open", x=0, y=0) for key in ("ford", "mill", "tor", "weir"))
OLD = Map(
    name="The Vale",
    regions=REGIONS,
    roads=(Road(key="1", a="ford", b="mill"), Road(key="2", a="mill", b="tor"), Road(key="3", a="tor", b="weir")),
)
GUARD = Standing(what="force", key="guard", name="The Guard", region="tor")
DEPOT = Standing(what="stock", key="tor", name="depot", region="tor")
MARCH = Standing(what="order", key="o1", name="march of the Guard", road="3")


def test_the_same_map_changes_nothing():
    assert changes(OLD, OLD, [GUARD]) == ()


def test_a_region_taken_off_says_who_stood_there_and_where_is_nearest():
    new = replace(OLD, regions=REGIONS[:2] + REGIONS[3:], roads=(OLD.roads[0], Road(key="4", a="mill", b="weir")))
    gone, *others = changes(OLD, new, [GUARD, DEPOT])
    assert gone.text == "Tor is taken off the map."
    assert (gone.weight, gone.touches, gone.refuge) == ("homeless", (GUARD, DEPOT), "mill")
    assert [each.code for each in others] == ["road_gone", "road_gone", "road_new"]


def test_a_region_taken_off_where_nothing_stands_leaves_nobody_homeless():
    gone, road = changes(OLD, replace(OLD, regions=REGIONS[:3], roads=OLD.roads[:2]), [GUARD])
    assert (gone.weight, gone.refuge, road.code) == ("felt", None, "road_gone")


def test_a_road_taken_off_says_which_orders_followed_it_and_what_comes_apart():
    gone, cut = changes(OLD, replace(OLD, roads=OLD.roads[:2]), [GUARD, MARCH])
    assert (gone.text, gone.weight, gone.touches) == ("The road 3 is taken off the map.", "homeless", (MARCH,))
    assert cut.text == "No road leads any more from the rest of the map to Weir."


def test_what_stands_on_a_part_cut_off_is_told():
    *_, cut = changes(OLD, replace(OLD, roads=OLD.roads[::2]), [GUARD])
    assert (cut.code, cut.touches) == ("cut_off", (GUARD,))


def test_an_island_that_always_was_one_is_no_change():
    apart = replace(OLD, roads=OLD.roads[:2])
    assert changes(apart, apart) == ()


def test_what_only_looks_different_is_told_apart_from_what_is_felt():
    moved = replace(REGIONS[0], x=5, produces=4)
    told = changes(OLD, replace(OLD, regions=(moved, *REGIONS[1:])))
    assert [(each.text, each.weight) for each in told] == [
        ("Ford: x was 0 and becomes 5.", "look"),
        ("Ford: produces was 0 and becomes 4.", "felt"),
    ]


def test_a_new_region_and_a_new_road_are_told():
    island = Region(key="isle", name="Isle", terrain="open", x=0, y=0)
    bridge = Road(key="9", a="isle", b="ford")
    told = changes(OLD, replace(OLD, regions=(*REGIONS, island), roads=(*OLD.roads, bridge)))
    assert [each.text for each in told] == ["Isle is new.", "The road 9 is new."]
