"""A night's demands beside what people hold."""

from __future__ import annotations

from league.engines.kit.items import Piece
from league.engines.kit.model import Apart, Carrier, Demand, Packed
from league.engines.kit.needs import Asked
from league.engines.kit.night import Holding, night_of
from league.engines.kit.plan import plan_night
from league.engines.rulesets import StandIn, Wanted

QUENNA, ULMAR = Carrier(key="quenna", name="Quenna", tables=("t1",)), Carrier(key="ulmar", name="Ulmar")


def asked(key, category, count=1, table="t1", side="", sharing="shared", stand_ins=(), **wanted):
    demand = Demand(key="/".join(part for part in (table, key, side) if part), table=table, name=key, count=count)
    return Asked(
        demand=demand,
        need=key,
        wanted=Wanted(category=category, **wanted),
        sharing=sharing,
        side=side,
        stand_ins=tuple(StandIn(need=key, **each) for each in stand_ins),
    )


def holding(key, category, count=1, carrier="quenna", **piece):
    return Holding(key=key, name=key, piece=Piece(category=category, **piece), count=count, carrier=carrier)


def ways(night):
    return [(use.good, use.covers, use.takes, use.rank) for use in night.uses]


def test_a_nested_template_serves_for_all_its_circles_at_once():
    circles = [asked(f"circle{size}", "template", size_mm=size) for size in (25, 51, 76, 102)]
    nested = holding("nested", "template", sizes_mm=(25, 51, 76, 102))
    plan = plan_night(night_of(circles, [nested], [QUENNA]))
    assert plan.shortfalls == ()
    assert [(line.count, len(line.use.covers)) for line in plan.lines] == [(1, 4)]


def test_a_long_stick_serves_for_the_short_range_too():
    ranges = [asked("long", "ruler", size_mm=914), asked("short", "ruler", size_mm=305)]
    night = night_of(ranges, [holding("stick", "ruler", sizes_mm=(914,))], [QUENNA])
    assert ways(night) == [("ruler mm=914", (("t1/long", 1), ("t1/short", 1)), 1, 0)]


def test_each_side_with_a_stick_of_its_own_needs_two():
    sticks = [asked("stick", "ruler", side=side, sharing="own", size_mm=305) for side in ("east", "west")]
    plan = plan_night(night_of(sticks, [holding("stick", "ruler", sizes_mm=(305,))], [QUENNA]))
    assert [(each.demand, each.missing) for each in plan.shortfalls] in (
        [("t1/stick/east", 1)],
        [("t1/stick/west", 1)],
    )


def test_a_marker_lies_in_one_place_at_a_time():
    markers = [asked("smoke", "marker", count=3), asked("fire", "marker", count=3)]
    plan = plan_night(night_of(markers, [holding("beads", "marker", count=4)], [QUENNA]))
    assert sum(each.missing for each in plan.shortfalls) == 2


def tokens(east=3, west=3, stand_ins=()):
    return [
        asked("tokens", "token", count=count, side=side, sharing="apart", stand_ins=stand_ins)
        for side, count in (("east", east), ("west", west))
    ]


def test_tokens_of_one_colour_do_not_serve_both_sides_whatever_they_are_made_of():
    reds = [
        holding("wood", "token", count=3, colour="red", use="activation"),
        holding("plastic", "token", count=3, colour="Red"),
    ]
    night = night_of(tokens(), reds, [QUENNA])
    assert night.apart == (Apart(table="t1", demands=("t1/tokens/east", "t1/tokens/west")),)
    assert sum(each.missing for each in plan_night(night).shortfalls) == 3


def test_tokens_of_two_colours_serve_both_sides():
    two = [holding("red", "token", count=3, colour="red"), holding("blue", "token", count=3, colour="blue")]
    assert plan_night(night_of(tokens(), two, [QUENNA])).shortfalls == ()


def test_numbered_dice_stand_in_for_tokens_when_the_colours_differ():
    dice = {"piece": Wanted(category="die"), "note": "Numbered dice"}
    held = [
        holding("red", "token", count=3, colour="red"),
        holding("dice", "die", count=3, carrier="ulmar", sides=6, colour="blue"),
    ]
    plan = plan_night(night_of(tokens(stand_ins=[dice]), held, [QUENNA, ULMAR]))
    assert plan.shortfalls == ()
    assert [line.use.rank for line in plan.lines] == [0, 1] or [line.use.rank for line in plan.lines] == [1, 0]


def test_a_stand_in_takes_and_covers_what_the_ruleset_says():
    die = {"piece": Wanted(category="die", sides=6), "covers": 3, "rank": 2}
    markers = [asked("suppression", "marker", count=7, stand_ins=[die])]
    night = night_of(markers, [holding("dice", "die", count=9, sides=6)], [QUENNA])
    assert ways(night) == [("die sides=6", (("t1/suppression", 3),), 1, 2)]
    assert sum(line.count for line in plan_night(night).lines) == 3


def test_the_thing_itself_is_no_stand_in_too():
    markers = [asked("smoke", "marker", colour="red", stand_ins=[{"piece": Wanted(category="marker")}])]
    night = night_of(
        markers, [holding("red", "marker", colour="red"), holding("blue", "marker", colour="blue")], [QUENNA]
    )
    assert [(use.good, use.rank) for use in night.uses] == [("marker colour=red", 0), ("marker colour=blue", 1)]


def test_a_stick_that_measures_may_stand_in_for_a_circle_at_the_same_time():
    """The use at the worse rank covers what it does by itself as well; the plan need not fetch a second stick."""
    lot = [
        asked("stick", "ruler", size_mm=305),
        asked("circle", "template", size_mm=76, stand_ins=[{"piece": Wanted(category="ruler")}]),
    ]
    plan = plan_night(night_of(lot, [holding("stick", "ruler", sizes_mm=(305,))], [QUENNA]))
    assert plan.shortfalls == ()


def test_what_belongs_to_somebody_who_does_not_come_stays_at_home():
    held = [holding("beads", "marker", carrier="ulmar"), holding("club", "marker", carrier=None)]
    packed = [Packed(supply="beads", table="t1", count=1), Packed(supply="club", table="t1", count=1)]
    night = night_of([asked("smoke", "marker")], held, [QUENNA], packed)
    assert [each.key for each in night.supplies] == ["club"]
    assert [each.supply for each in night.packed] == ["club"]


def test_two_tables_ask_for_the_same_separately():
    both = [asked("bag", "bag", table="t1"), asked("bag", "bag", table="t2")]
    night = night_of(both, [holding("sack", "bag")], [QUENNA])
    assert [(use.table, use.covers) for use in night.uses] == [("t1", (("t1/bag", 1),)), ("t2", (("t2/bag", 1),))]
    assert [each.table for each in plan_night(night).shortfalls] == ["t2"]
