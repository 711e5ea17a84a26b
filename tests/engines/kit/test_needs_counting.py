"""What a game asks for, counted out for the units on the table.

The numbers are common practice of the hobby with no source, unless a test says otherwise; they are data of the rulesets
below, not of the engine.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.engines.kit.needs import Game, Peak, Side, Unit, needs_of
from league.engines.rulesets import CATEGORIES, PERS, SHARINGS, parse_ruleset

TOKENS = {
    "key": "tokens",
    "name": "Activation tokens",
    "wanted": {"category": "token", "use": "activation"},
    "per": "unit",
    "sharing": "apart",
}
DICE = {
    "key": "dice",
    "name": "Dice",
    "wanted": {"category": "die", "sides": 6},
    "per": "pool",
    "sharing": "shared",
    "extras": [{"gear": "machine gun", "count": 6}],
    "most": 36,
}
SUPPRESSION = {
    "key": "suppression",
    "name": "Suppression markers",
    "wanted": {"category": "marker", "use": "suppression"},
    "per": "markers",
    "count": 3,
    "of": 4,
}


def ruleset(*needs, **kit):
    return parse_ruleset(
        {
            "format": "drumhead ruleset 1",
            "name": "Two Ponds",
            "unit_classes": [
                {"key": "line", "name": "Line", "figures_least": 1, "figures_most": 40},
                {"key": "guns", "name": "Guns", "figures_least": 1, "figures_most": 9},
            ],
            "scenarios": [
                {
                    "key": "pond",
                    "name": "The Pond",
                    "sides": [{"key": "east", "name": "East"}, {"key": "west", "name": "West"}],
                    "table": {"width_mm": 1829, "depth_mm": 1219},
                },
            ],
            "kit": {"needs": list(needs), **kit},
        }
    )


def line(number, figures=10, gear=("rifles",)):
    return tuple(Unit(name=f"Company {each}", unit_class="line", figures=figures, gear=gear) for each in range(number))


def game(rules, *sides, **more):
    named = [
        Side(key=key, name=key.title(), units=units)
        for key, units in zip(("east", "west", "south"), sides, strict=False)
    ]
    return Game(table="t1", ruleset=rules, sides=tuple(named), **more)


def counts(rules, *sides, **more):
    return {each.demand.key: each.demand.count for each in needs_of(game(rules, *sides, **more))}


def reasons(rules, *sides, **more):
    return [words for each in needs_of(game(rules, *sides, **more)) for words in each.demand.why]


def test_sides_of_sixteen_and_fifteen_units_fill_the_bag_with_thirty_one_tokens():
    asked = needs_of(game(ruleset(TOKENS), line(16), line(15)))
    assert [(each.side, each.demand.count) for each in asked] == [("east", 16), ("west", 15)]
    assert sum(each.demand.count for each in asked) == 31


def test_twelve_rifles_roll_twelve_dice_together():
    rules = ruleset(DICE | {"gear": ["rifles"]})
    assert counts(rules, line(3, figures=12)) == {"t1/dice": 12}
    assert reasons(rules, line(3, figures=12)) == ["Company 0: 12 rifles roll together: 12 dice."]


def test_a_machine_gun_adds_its_dice_to_its_units_pool():
    squad = line(1, figures=12, gear=("rifles", "machine gun"))
    assert counts(ruleset(DICE), squad) == {"t1/dice": 18}
    assert reasons(ruleset(DICE), squad) == [
        "Company 0: 12 figures roll together, machine gun adds 6: 18 dice.",
    ]


def test_two_machine_guns_add_twice_as_many():
    assert counts(ruleset(DICE), line(1, figures=4, gear=("2 machine guns",))) == {"t1/dice": 16}


def test_thirty_six_dice_are_enough_for_anybody():
    assert counts(ruleset(DICE), line(1, figures=40)) == {"t1/dice": 36}
    assert reasons(ruleset(DICE), line(1, figures=40))[-1] == "36 are enough."


def test_the_pool_is_of_the_one_unit_that_rolls_most_not_of_all():
    assert counts(ruleset(DICE), line(5, figures=8), line(2, figures=11)) == {"t1/dice": 11}


def test_each_side_has_its_own_dice_if_the_ruleset_says_so():
    own = ruleset(DICE | {"sharing": "own"})
    assert counts(own, line(1, figures=8), line(1, figures=11)) == {"t1/dice/east": 8, "t1/dice/west": 11}


def test_fewer_than_one_marker_a_unit_is_in_use_at_once():
    """Three for every four units; 31 units and 24 markers, rounded up from 23.25."""
    assert counts(ruleset(SUPPRESSION), line(16), line(15)) == {"t1/suppression": 24}


def test_what_reports_tell_of_takes_the_place_of_the_usual_number():
    peak = Peak(need="suppression", count=14, why="In 19 of 20 reports no more than 14 were in use at once.")
    asked = needs_of(game(ruleset(SUPPRESSION), line(16), line(15), peaks=(peak,)))
    assert [(each.demand.count, each.demand.why) for each in asked] == [(14, (peak.why,))]


def test_spare_ones_come_on_top_of_what_is_enough():
    assert counts(ruleset(TOKENS | {"most": 3, "spare": 2}), line(5)) == {"t1/tokens/east": 5}


def test_nothing_asked_for_needs_no_spare():
    assert counts(ruleset(TOKENS | {"spare": 2}), ()) == {}


@pytest.mark.parametrize("gear", ["mortar", "Mortar", " MORTAR ", "2 mortars", "2 x mortar", "mortars"])
def test_gear_is_known_by_its_name_however_it_is_written(gear):
    template = {
        "key": "blast",
        "name": "Blast circle, 3 in",
        "wanted": {"category": "template", "size_mm": 76},
        "per": "gear",
        "sharing": "shared",
        "gear": ["mortar"],
        "most": 1,
    }
    assert counts(ruleset(template), line(1, gear=(gear,)), line(4)) == {"t1/blast": 1}


def test_gear_that_nobody_carries_asks_for_nothing():
    template = DICE | {
        "key": "blast",
        "wanted": {"category": "template"},
        "per": "gear",
        "gear": ["mortar"],
        "extras": [],
    }
    assert counts(ruleset(template), line(2, gear=("mortar bombs", "carried mortar")), line(1)) == {}


def test_a_need_for_each_piece_of_gear_counts_the_pieces():
    pots = TOKENS | {"per": "gear", "gear": ["smoke pot"], "sharing": "own"}
    assert counts(ruleset(pots), line(2, gear=("3 smoke pots",))) == {"t1/tokens/east": 6}


def test_a_need_of_a_class_counts_only_that_class():
    guns = (Unit(name="Gun", unit_class="guns", figures=3),)
    assert counts(ruleset(TOKENS | {"classes": ["guns"]}), line(4) + guns) == {"t1/tokens/east": 1}


def test_a_need_of_the_table_for_a_class_stands_only_with_such_a_unit():
    horn = {"key": "horn", "name": "Horn", "wanted": {"category": "other"}, "per": "table", "classes": ["guns"]}
    guns = (Unit(name="Gun", unit_class="guns", figures=3),)
    assert counts(ruleset(horn), line(1), line(1)) == {}
    assert counts(ruleset(horn), line(1), guns) == {"t1/horn": 1}


def test_a_need_of_each_figure_counts_figures():
    bases = TOKENS | {"per": "figure", "of": 4, "sharing": "own"}
    assert counts(ruleset(bases), line(3, figures=7)) == {"t1/tokens/east": 6}


def test_a_need_of_a_scenario_is_left_out_of_others():
    boat = {"key": "boat", "name": "Boat", "wanted": {"category": "scenery"}, "per": "table", "scenarios": ["pond"]}
    assert counts(ruleset(boat), line(1), scenario="pond") == {"t1/boat": 1}
    assert counts(ruleset(boat), line(1)) == {}


def test_a_mat_is_as_large_as_the_scenarios_table():
    mat = {"key": "mat", "name": "Mat", "wanted": {"category": "mat"}, "per": "table"}
    (asked,) = needs_of(game(ruleset(mat), line(1), scenario="pond"))
    assert (asked.wanted.size_mm, asked.wanted.depth_mm) == (1829, 1219)


def test_scenery_is_for_the_figures_on_the_table_first_and_those_of_the_ruleset_next():
    hill = {"key": "hill", "name": "Hill", "wanted": {"category": "scenery"}, "per": "table"}
    rules = ruleset(hill, scale_mm=28, scale_tolerance_mm=4)
    assert needs_of(game(rules, line(1)))[0].wanted.scale_mm == 28
    assert needs_of(game(rules, line(1), scale_mm=20))[0].wanted.scale_mm == 20


def test_what_is_said_is_what_is_asked_where_it_is_rounded_up():
    half = {"key": "sheet", "name": "Sheets", "wanted": {"category": "paper"}, "per": "side", "count": 3, "of": 2}
    (asked,) = needs_of(game(ruleset(half), line(1)))
    assert (asked.demand.count, asked.demand.why) == (2, ("2 for the side.",))


def test_three_sides_have_their_tokens_each():
    assert counts(ruleset(TOKENS), line(1), line(2), line(3)) == {
        "t1/tokens/east": 1,
        "t1/tokens/west": 2,
        "t1/tokens/south": 3,
    }


def test_one_known_side_is_counted_alone():
    assert counts(ruleset(TOKENS, DICE), line(2)) == {"t1/tokens/east": 2, "t1/dice": 10}


def test_a_ruleset_without_needs_asks_for_nothing():
    assert needs_of(game(ruleset(), line(3), line(3))) == ()


needs = st.builds(
    lambda per, sharing, count, of, most, spare, category: {
        "key": "thing",
        "name": "Thing",
        "wanted": {"category": category},
        "per": per,
        "count": count,
        "of": of,
        "sharing": "shared" if per == "table" else sharing,
        "gear": ["rifles"],
        "most": most,
        "spare": spare,
    },
    st.sampled_from(PERS),
    st.sampled_from(SHARINGS),
    st.integers(1, 9),
    st.integers(1, 9),
    st.none() | st.integers(1, 30),
    st.integers(0, 3),
    st.sampled_from(CATEGORIES),
)


@given(needs, st.integers(0, 9), st.integers(0, 9), st.integers(1, 30))
def test_more_units_never_ask_for_less(need, few, more, figures):
    rules = ruleset(need)
    less = sum(counts(rules, line(few, figures), line(1)).values())
    assert less <= sum(counts(rules, line(few + more, figures), line(1)).values())


@given(needs, st.integers(0, 9), st.integers(0, 9))
def test_every_demand_says_why_and_asks_for_something(need, east, west):
    for asked in needs_of(game(ruleset(need), line(east), line(west))):
        assert asked.demand.count > 0
        assert asked.demand.why


@given(needs, st.integers(1, 9), st.integers(1, 9))
def test_what_is_shared_is_no_more_than_what_each_side_has_for_itself(need, east, west):
    shared = counts(ruleset(need | {"sharing": "shared"}), line(east), line(west))
    if need["per"] not in {"table", "markers"}:
        own = counts(ruleset(need | {"sharing": "own"}), line(east), line(west))
        assert sum(shared.values()) == max(own.values())
