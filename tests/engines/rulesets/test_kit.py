"""The kit part of a ruleset: what it may say, and what it must agree on."""

from __future__ import annotations

import pytest

from league.engines.rulesets import BadRuleset, Need, Wanted, parse_ruleset, ruleset_to_document

SMALLEST = {
    "format": "drumhead ruleset 1",
    "name": "Two Ponds",
    "unit_classes": [{"key": "line", "name": "Line", "figures_least": 1, "figures_most": 9}],
}
TOKENS = {"key": "tokens", "name": "Tokens", "wanted": {"category": "token"}, "per": "unit"}
DICE = {"key": "dice", "name": "Dice", "wanted": {"category": "die", "sides": 6}, "per": "pool"}


def document(*needs, **kit):
    return SMALLEST | {"kit": {"needs": list(needs), **kit}}


def faults(bad):
    with pytest.raises(BadRuleset) as refused:
        parse_ruleset(bad)
    return [(each.place, each.code) for each in refused.value.violations]


def test_a_need_says_what_is_wanted_and_for_what():
    assert parse_ruleset(document(TOKENS)).kit.needs == (
        Need(key="tokens", name="Tokens", wanted=Wanted(category="token"), per="unit"),
    )


def test_what_is_asked_for_once_a_table_is_shared_without_saying_so():
    assert parse_ruleset(document(TOKENS | {"per": "table"})).kit.need("tokens").sharing == "shared"


def test_a_ruleset_that_asks_for_nothing_has_no_kit_part():
    assert "kit" not in ruleset_to_document(parse_ruleset(document()))


def test_a_need_without_a_thing_is_refused_once():
    nothing = {key: value for key, value in TOKENS.items() if key != "wanted"}
    assert faults(document(nothing)) == [("kit.needs[0].wanted", "missing")]


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"per": "gear"}, ("kit.needs[0].gear", "gear_without_name")),
        ({"extras": [{"gear": "gun", "count": 2}]}, ("kit.needs[0].extras", "extras_without_pool")),
        ({"count": 0}, ("kit.needs[0].count", "asks_for_nothing")),
        ({"per": "table", "sharing": "apart"}, ("kit.needs[0].sharing", "table_not_shared")),
        ({"classes": ["horse"]}, ("kit.needs[0].classes[0]", "unknown_key")),
        ({"classes": ["line", "line"]}, ("kit.needs[0].classes[1]", "twice")),
        ({"scenarios": ["pond"]}, ("kit.needs[0].scenarios[0]", "unknown_key")),
        ({"gear": [" "]}, ("kit.needs[0].gear[0]", "blank")),
        ({"count": -1}, ("kit.needs[0].count", "out_of_range")),
        ({"count": 1_001}, ("kit.needs[0].count", "out_of_range")),
        ({"wanted": {"category": "wand"}}, ("kit.needs[0].wanted.category", "not_a_choice")),
        ({"wanted": {"category": "token", "sides": 6}}, ("kit.needs[0].wanted.sides", "sides_without_die")),
        ({"wanted": {"category": "mat", "depth_mm": 9}}, ("kit.needs[0].wanted.depth_mm", "depth_without_size")),
        ({"wanted": {"category": "token", "weight": 9}}, ("kit.needs[0].wanted.weight", "unknown_field")),
    ],
)
def test_a_need_that_makes_no_sense_is_refused_at_its_place(change, fault):
    assert faults(document(TOKENS | change)) == [fault]


def test_what_must_all_be_red_cannot_be_told_apart_by_colour():
    red = TOKENS | {"sharing": "apart", "wanted": {"category": "token", "colour": "red"}}
    assert faults(document(red)) == [("kit.needs[0].sharing", "apart_in_one_colour")]


def test_two_needs_of_one_key_are_refused():
    assert faults(document(TOKENS, DICE, TOKENS)) == [("kit.needs[2].key", "twice")]


def test_a_stand_in_is_for_a_need_that_is_described():
    stand_in = {"need": "hill", "piece": {"category": "other", "use": "book"}}
    assert faults(document(TOKENS, stand_ins=[stand_in])) == [("kit.stand_ins[0].need", "unknown_key")]


def test_a_misspelt_key_of_a_need_is_not_told_of_at_its_stand_ins_too():
    stand_in = {"need": "tokens", "piece": {"category": "die"}}
    assert faults(document(TOKENS | {"key": "Tokens!"}, stand_ins=[stand_in])) == [("kit.needs[0].key", "bad_key")]
