"""What the plan of a night does, one thing at a time."""

from __future__ import annotations

from dataclasses import replace

import pytest

from league.engines.kit.model import Apart, Carrier, Demand, Night, Packed, Supply, Use
from league.engines.kit.plan import (
    DEFAULT_ORDER,
    GoodCount,
    NightUnsound,
    Plan,
    PlanUnsound,
    check_plan,
    count_holds,
    plan_night,
)
from league.engines.kit.plan.order import in_order
from tests.engines.kit.club_evening import evening

QUENNA = Carrier(key="quenna", name="Quenna", tables=("t1",))
ULMAR = Carrier(key="ulmar", name="Ulmar", tables=("t2",))
HESPER = Carrier(key="hesper", name="Hesper")


def demand(key: str, count: int, table: str = "t1", **more) -> Demand:
    return Demand(key=key, table=table, name=key, count=count, **more)


def use(good: str, key: str, table: str = "t1", **more) -> Use:
    return Use(table=table, good=good, covers=((key, 1),), **more)


def supply(key: str, good: str, count: int, carrier: Carrier | None = QUENNA, bulk_ml: int = 0) -> Supply:
    whose = carrier.key if carrier else None
    return Supply(key=key, good=good, name=good, count=count, carrier=whose, bulk_ml=bulk_ml)


def night(*parts: object, **more) -> Night:
    def of(kind: type) -> tuple:
        return tuple(each for each in parts if isinstance(each, kind))

    return Night(
        demands=of(Demand),
        uses=of(Use),
        supplies=of(Supply),
        carriers=of(Carrier),
        apart=of(Apart),
        packed=of(Packed),
        **more,
    )


def brought(plan: Plan) -> dict[str, int]:
    found: dict[str, int] = {}
    for line in plan.lines:
        found[line.supply] = found.get(line.supply, 0) + line.count
    return found


# --- the criteria in their order --------------------------------------------------------


def test_what_a_game_cannot_do_without_goes_before_what_is_pleasant():
    plan = plan_night(
        night(
            demand("dice", 3),
            demand("more dice", 3, importance="pleasant"),
            use("d6", "dice"),
            use("d6", "more dice"),
            supply("s", "d6", 3),
            QUENNA,
        )
    )
    assert (plan.value("needed"), plan.value("pleasant")) == (0, 3)


def test_the_thing_itself_goes_before_a_stand_in_of_ones_own():
    plan = plan_night(
        night(
            demand("bag", 1),
            use("bag", "bag"),
            use("cup", "bag", rank=1, note="A cup does."),
            supply("cups", "cup", 2, QUENNA),
            supply("bags", "bag", 1, HESPER),
            QUENNA,
            HESPER,
        )
    )
    assert brought(plan) == {"bags": 1}


def test_ones_own_table_goes_before_fewer_people_who_carry():
    plan = plan_night(
        night(
            demand("dice 1", 2),
            demand("dice 2", 2, "t2"),
            use("d6", "dice 1"),
            use("d6", "dice 2", "t2"),
            supply("quenna's", "d6", 4, QUENNA),
            supply("ulmar's", "d6", 4, ULMAR),
            QUENNA,
            ULMAR,
        )
    )
    assert brought(plan) == {"quenna's": 2, "ulmar's": 2}
    assert plan.value("away") == 0


def test_the_club_may_want_fewer_people_to_carry_first():
    asked = night(
        demand("dice 1", 2),
        demand("dice 2", 2, "t2"),
        use("d6", "dice 1"),
        use("d6", "dice 2", "t2"),
        supply("quenna's", "d6", 4, QUENNA),
        supply("ulmar's", "d6", 4, ULMAR),
        QUENNA,
        ULMAR,
    )
    plan = plan_night(asked, criteria=("shortfall", "carriers", "own_table"))
    assert (plan.value("carriers"), plan.value("away"), len(plan.loads)) == (1, 2, 1)


def test_few_things_to_pack_go_before_what_fits_a_bag_and_both_before_nothing():
    plan = plan_night(
        night(
            demand("dice", 4),
            use("d6", "dice"),
            supply("one box", "d6", 4, HESPER, bulk_ml=10),
            supply("a few", "d6", 2, HESPER),
            supply("a few more", "d6", 2, HESPER),
            replace(HESPER, carries_most_ml=20),
        )
    )
    assert (plan.value("lines"), plan.value("excess_ml")) == (1, 20)


def test_of_two_who_could_bring_it_the_one_who_has_room_does():
    plan = plan_night(
        night(
            demand("mat", 1),
            use("mat", "mat"),
            supply("large", "mat", 1, HESPER, bulk_ml=9000),
            supply("small", "mat", 1, QUENNA, bulk_ml=9000),
            replace(HESPER, carries_most_ml=500),
            replace(QUENNA, tables=(), carries_most_ml=40_000),
        )
    )
    assert brought(plan) == {"small": 1}
    assert plan.loads[0].excess_ml == 0


def test_a_nested_template_serves_several_sizes_at_once():
    plan = plan_night(
        night(
            demand("2 in", 1),
            demand("3 in", 1),
            Use(table="t1", good="nested", covers=(("2 in", 1), ("3 in", 1))),
            supply("s", "nested", 1),
            QUENNA,
        )
    )
    assert (plan.value("needed"), brought(plan)) == (0, {"s": 1})


def test_two_sides_tokens_are_told_apart_by_their_colour():
    """Red wooden and red plastic are both just red: with nothing else one side goes short."""
    tokens = (demand("a", 2), demand("b", 2), Apart(table="t1", demands=("a", "b")))
    uses = [use(good, key, look=good.split()[-1]) for good in ("wooden red", "plastic red") for key in ("a", "b")]
    red = [supply("s1", "wooden red", 2), supply("s2", "plastic red", 2)]
    assert plan_night(night(*tokens, *uses, *red, QUENNA)).value("needed") == 2
    blue = [use("wooden blue", key, look="blue") for key in ("a", "b")]
    more = (*uses, *blue, *red, supply("s3", "wooden blue", 2))
    assert plan_night(night(*tokens, *more, QUENNA)).value("needed") == 0


# --- planned again ----------------------------------------------------------------------


def packed_evening(*, with_ulmar: bool) -> Night:
    """Quenna and Ulmar packed two dice each for either table; Hesper has some too."""
    people = [replace(QUENNA, has_packed=True), *([replace(ULMAR, has_packed=True)] if with_ulmar else []), HESPER]
    kit = [supply("quenna's", "d6", 4, QUENNA), supply("hesper's", "d6", 4, HESPER)]
    kit += [supply("ulmar's", "d6", 2, ULMAR)] if with_ulmar else []
    packed = [Packed(supply="quenna's", table="t1", count=2), Packed(supply="ulmar's", table="t2", count=2)]
    dice = [demand("dice 1", 2), demand("dice 2", 2, "t2"), use("d6", "dice 1"), use("d6", "dice 2", "t2")]
    return night(*dice, *kit, *people, *packed)


def test_what_is_packed_stays_packed():
    plan = plan_night(packed_evening(with_ulmar=True))
    assert (brought(plan), plan.value("changes")) == ({"quenna's": 2, "ulmar's": 2}, 0)


def test_when_somebody_drops_out_those_who_packed_unpack_nothing():
    """Quenna could bring the other two as well and be the only one to carry; but she has packed."""
    plan = plan_night(packed_evening(with_ulmar=False))
    assert (brought(plan), plan.value("changes"), plan.value("needed")) == ({"quenna's": 2, "hesper's": 2}, 0, 0)


def test_a_game_that_would_go_short_is_worth_packing_anew():
    asked = packed_evening(with_ulmar=False)
    alone = replace(
        asked,
        supplies=tuple(each for each in asked.supplies if each.key != "hesper's"),
        carriers=tuple(each for each in asked.carriers if each.key != "hesper"),
    )
    plan = plan_night(alone)
    assert (plan.value("needed"), plan.value("changes"), brought(plan)) == (0, 2, {"quenna's": 4})


# --- proofs -----------------------------------------------------------------------------


def short_of_dice() -> Night:
    return night(
        demand("dice 1", 5),
        demand("dice 2", 4, "t2"),
        use("d6", "dice 1"),
        use("d6", "dice 2", "t2"),
        supply("quenna's", "d6", 4),
        supply("ulmar's", "d6", 2, ULMAR),
        QUENNA,
        ULMAR,
    )


def test_a_shortfall_is_counted_out_over_all_who_compete_for_the_same():
    """Nine dice asked for, six there: three are missing, wherever."""
    shorts = plan_night(short_of_dice()).shortfalls
    assert sum(each.missing for each in shorts) == 3
    for each in shorts:
        assert each.count is not None
        assert (each.count.asked, each.count.meets, each.count.missing) == (9, 6, 3)
        assert set(each.count.demands) == {"dice 1", "dice 2"}


@pytest.mark.parametrize(
    "changed",
    [{"meets": 5}, {"asked": 10}, {"missing": 4}, {"goods": (GoodCount(good="d6", held=5, meets=5),)}],
    ids=str,
)
def test_a_count_that_is_false_does_not_hold(changed):
    count = plan_night(short_of_dice()).shortfalls[0].count
    assert count is not None
    assert count_holds(in_order(short_of_dice()), count)
    assert not count_holds(in_order(short_of_dice()), replace(count, **changed))


def test_a_plan_that_takes_more_than_there_is_is_not_handed_out():
    asked = short_of_dice()
    plan = plan_night(asked)
    line = plan.lines[0]
    with pytest.raises(PlanUnsound, match="which holds"):
        check_plan(in_order(asked), replace(plan, lines=(replace(line, count=line.count + 9), *plan.lines[1:])))


def test_a_plan_that_says_less_is_missing_than_there_is_is_not_handed_out():
    asked = short_of_dice()
    plan = plan_night(asked)
    with pytest.raises(PlanUnsound):
        check_plan(in_order(asked), replace(plan, shortfalls=()))


def test_out_of_time_there_is_a_sound_plan_that_says_what_is_not_proven():
    asked = evening(1, tables=12, people=24)
    plan = plan_night(asked, seconds=0.0)
    check_plan(in_order(asked), plan)
    assert not plan.proven
    assert all(each.bound <= each.value for each in plan.values)
    assert any(each.proof == "open" and each.gap > 0 for each in plan.values)


def test_in_time_the_same_evening_misses_no_more_and_is_proven_to():
    asked = evening(1, tables=12, people=24)
    hurried, whole = plan_night(asked, seconds=0.0), plan_night(asked, criteria=("shortfall",))
    assert whole.proven
    assert whole.value("needed") <= hurried.value("needed")


# --- nights that cannot be --------------------------------------------------------------


def test_everything_wrong_with_a_night_is_said_at_once():
    with pytest.raises(NightUnsound) as unsound:
        plan_night(
            night(
                demand("dice", -1),
                demand("dice", 3),
                use("d6", "tokens"),
                Use(table="t1", good="d6", covers=(), takes=0),
                supply("s", "d6", 3, HESPER, bulk_ml=-5),
                Apart(table="t2", demands=("dice",)),
                QUENNA,
                QUENNA,
            )
        )
    told = " ".join(unsound.value.faults)
    for words in (
        "The demand “dice” is there 2 times.",
        "The person “quenna” is there 2 times.",
        "The count of demand “dice” is -1",
        "covers “tokens”, which is no demand of that table.",
        "covers nothing",
        "What a use of “d6” at “t1” takes is 0",
        "The bulk of a piece of holding “s” is -5",
        "Holding “s” is with “hesper”, who is not coming.",
        "is no demand of that table",
    ):
        assert words in told


def test_criteria_that_are_none_are_refused():
    asked = short_of_dice()
    for order in (("shortfall", "colour"), ("carriers",), ("shortfall", "shortfall")):
        with pytest.raises(ValueError, match="Criteria are some of"):
            plan_night(asked, criteria=order)  # type: ignore[arg-type]


def test_a_night_without_tables_needs_nothing():
    plan = plan_night(night(supply("s", "d6", 3), QUENNA))
    assert (plan.lines, plan.shortfalls, plan.proven) == ((), (), True)
    assert [each.value for each in plan.values] == [0] * len(plan.values)
    assert {each.criterion for each in plan.values} == set(DEFAULT_ORDER)
