from __future__ import annotations

import copy
import json

import pytest
from jsonschema import Draft202012Validator

from league.engines.documents.night import asked_of, dump_night, night_to_plan, read_night, write_night
from league.engines.documents.reading import BadDocument, parse, schema_of
from league.engines.kit.plan import plan_night
from league.engines.rulesets import ruleset_to_document


def faults(document) -> list[str]:
    with pytest.raises(BadDocument) as refusal:
        read_night(document)
    return [str(fault) for fault in refusal.value.faults]


# --- the schema -----------------------------------------------------------------


def test_the_schema_is_sound_by_its_own_standard():
    Draft202012Validator.check_schema(schema_of("night"))


def described(schema, place=""):
    if isinstance(schema, dict):
        if "properties" in schema:
            for name, inner in schema["properties"].items():
                if "description" not in inner:
                    yield f"{place}/{name}"
        for name, inner in schema.items():
            yield from described(inner, f"{place}/{name}")


def test_every_property_is_described():
    assert list(described(schema_of("night"))) == []


def test_what_is_written_satisfies_the_schema(thursday):
    written = write_night(read_night(thursday))
    assert list(Draft202012Validator(schema_of("night")).iter_errors(written)) == []


# --- reading ---------------------------------------------------------------------


def test_the_needs_of_a_game_are_counted_out_and_those_told_outright_follow(thursday):
    asked = {each.demand.key: each.demand.count for each in asked_of(read_night(thursday))}
    assert asked == {"t1/tokens/east": 2, "t1/tokens/west": 1, "t1/dice": 12, "t2/tea": 2}


def test_a_table_without_a_name_goes_by_its_id(thursday):
    assert [each.name for each in read_night(thursday).tables] == ["By the window", "t2"]


def test_the_plan_of_the_night_says_who_brings_what(thursday):
    plan = plan_night(night_to_plan(read_night(thursday)))
    assert {(line.carrier, line.supply, line.count) for line in plan.lines} == {
        ("quenna", "red", 2),
        ("ulmar", "blue", 1),
        (None, "dice", 12),
    }
    assert [(each.demand, each.missing) for each in plan.shortfalls] == [("t2/tea", 2)]


def test_a_ruleset_from_before_there_was_a_kit_part_asks_for_nothing_and_is_written_as_it_was(thursday):
    del thursday["rulesets"]["ponds"]["kit"]
    night = read_night(thursday)
    assert [each.demand.key for each in asked_of(night)] == ["t2/tea"]
    assert "kit" not in write_night(night)["rulesets"]["ponds"]


def test_a_whole_number_written_with_a_point_is_whole(thursday):
    """JSON Schema 2020-12, validation, 6.1.1: a number without a fractional part is an integer."""
    plain = dump_night(read_night(copy.deepcopy(thursday)))
    thursday["holdings"][0]["count"] = 5.0
    thursday["tables"][0]["game"]["sides"][0]["units"][0]["figures"] = 12.0
    assert dump_night(read_night(thursday)) == plain


def test_everything_wrong_is_said_at_once_with_its_place(thursday):
    thursday["weather"] = "wet"
    thursday["on"] = "19 March"
    thursday["rulesets"]["ponds"]["kit"]["needs"][0]["count"] = -1
    thursday["rulesets"]["ponds"]["unit_classes"][0]["key"] = "Line!"
    thursday["tables"][0]["game"]["sides"] = []
    thursday["tables"][1]["needs"][0]["wanted"]["category"] = "potion"
    thursday["people"][0]["carries_most_ml"] = "much"
    thursday["holdings"][0]["count"] = -3
    del thursday["holdings"][1]["piece"]["category"]
    assert sorted(faults(thursday)) == sorted(
        [
            "Unknown here: 'weather'.",
            "/on: This must be a day as YYYY-MM-DD; it is '19 March'.",
            "/tables/0/game/sides: This needs 1 or more.",
            (
                "/tables/1/needs/0/wanted/category: This must be one of 'die', 'token', 'marker', 'template', 'ruler', "
                "'bag', 'mat', 'scenery', 'paper', 'consumable', 'other'; it is 'potion'."
            ),
            "/people/0/carries_most_ml: This must be a whole number.",
            "/holdings/0/count: This must be 0 or more; it is -3.",
            "/holdings/1/piece: 'category' is missing.",
            (
                "/rulesets/ponds/unit_classes/0/key: A key has up to 40 small letters, digits and underscores and begins "
                "with a letter; this is 'Line!'."
            ),
            "/rulesets/ponds/kit/needs/0/count: This must be from 0 to 1000, not -1.",
        ]
    )


def test_everything_wrong_with_packs_and_the_budget_is_said_at_once(thursday):
    thursday["budget_pence"] = 12.5
    thursday["offers"] = [
        {"id": "ten", "name": "Ten", "piece": {"category": "token"}, "pieces": 0, "price_pence": -1, "most": -1},
        {"id": "few", "name": "Few", "piece": {"category": "token"}, "pieces": 4, "price_pence": 1.5, "weight": 3},
        {"id": "bare"},
    ]
    found = faults(thursday)
    for place in (
        "/budget_pence: ",
        "/offers/0/pieces: ",
        "/offers/0/price_pence: ",
        "/offers/0/most: ",
        "/offers/1/price_pence: ",
        "/offers/1: Unknown here: 'weight'.",
        "/offers/2: 'name' is missing.",
        "/offers/2: 'piece' is missing.",
        "/offers/2: 'pieces' is missing.",
        "/offers/2: 'price_pence' is missing.",
    ):
        assert any(fault.startswith(place) for fault in found), place


def test_packs_and_a_budget_are_read_and_written(thursday):
    thursday["budget_pence"] = 1200
    thursday["offers"] = [
        {"id": "ten", "name": "Ten", "piece": {"category": "token"}, "pieces": 10, "price_pence": 300, "most": 2}
    ]
    written = write_night(read_night(thursday))
    assert (written["offers"], written["budget_pence"]) == (thursday["offers"], 1200)


def test_what_no_schema_sees_is_said_at_once_too(thursday):
    game = thursday["tables"][0]["game"]
    game["scenario"] = "weir"
    game["sides"][0]["units"][0]["class"] = "horse"
    game["sides"][1]["key"] = "east"
    game["peaks"] = [{"need": "dice", "count": 3}]
    token = {"category": "token", "sides": 6}
    thursday["offers"] = 2 * [{"id": "ten", "name": "Ten", "piece": token, "pieces": 10, "price_pence": 300}]
    thursday["tables"][1]["id"] = "t1"
    thursday["people"][1]["tables"] = ["t9"]
    thursday["holdings"][2]["id"] = "red"
    thursday["holdings"][1]["carrier"] = "gorran"
    thursday["packed"] = [
        {"holding": "red", "table": "t7", "count": 1},
        {"holding": "gold", "table": "t1", "count": 1},
        {"holding": "blue", "table": "t1", "count": 9},
        {"holding": "blue", "table": "t1", "count": 1},
    ]
    found = faults(thursday)
    for fault in (
        "/tables/1/id: Another table has this id.",
        "/holdings/2/id: Another holding has this id.",
        "/tables/0/game/scenario: The ruleset has no such scenario.",
        "/tables/0/game/sides/1/key: Another side has this key.",
        "/tables/0/game/sides/0/units/0/class: The ruleset has no such class.",
        "/tables/0/game/peaks/0/need: The ruleset has no such need of markers.",
        "/people/1/tables/0: There is no such table.",
        "/holdings/1/carrier: Nobody of this id comes.",
        "/offers/1/id: Another pack has this id.",
        "/offers/0/piece/sides: Only a die has sides to count.",
        "/packed/0/table: There is no such table.",
        "/packed/1/holding: There is no such holding.",
        "/packed/2/count: 9 of these would be packed, but there are 5.",
        "/packed/3: This holding is packed for this table already.",
    ):
        assert fault in found


def test_a_game_by_a_ruleset_that_is_not_there_is_refused(thursday):
    thursday["tables"][0]["game"]["ruleset"] = "weirs"
    assert faults(thursday) == ["/tables/0/game/ruleset: There is no such ruleset in this document."]


def test_a_need_told_twice_is_refused(thursday):
    thursday["tables"][1]["needs"] *= 2
    assert faults(thursday) == ["/tables/1/needs/1/key: This is asked for at this table already."]


def test_an_absurd_number_of_figures_is_refused(thursday):
    thursday["rulesets"]["ponds"]["kit"]["needs"][1] |= {"count": 1_000, "per": "figure"}
    assert faults(thursday) == ["/tables/0/game: This asks for 18000 of “Dice”; 10000 is the most."]


def test_sides_of_what_is_no_die_are_refused(thursday):
    thursday["holdings"][0]["piece"]["sides"] = 6
    thursday["tables"][1]["needs"][0]["wanted"]["sides"] = 6
    thursday["tables"][1]["needs"][0]["wanted"]["depth_mm"] = 6
    assert faults(thursday) == [
        "/tables/1/needs/0/wanted/sides: Only a die has sides to count.",
        "/tables/1/needs/0/wanted/depth_mm: Say the first side before the second.",
        "/holdings/0/piece/sides: Only a die has sides to count.",
    ]


@pytest.mark.parametrize("document", [None, [], "night", 7, {}, {"rulesets": 3}, {"rulesets": {"ponds": []}}])
def test_what_is_no_night_is_refused(document):
    assert faults(document)


# Values of a wrong kind or size for nearly every field.
CHANGES = [
    "left out",
    None,
    True,
    -1,
    0,
    2.5,
    1e400,
    10**30,
    "",
    "Not an id",
    "x" * 301,
    [],
    [[]],
    {},
    {"a": 1},
    "a\x07b",
]


def places(value, path=()):
    """Every place in a document."""
    yield path
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, each in inner:
        yield from places(each, (*path, key))


def changed(document, path, change):
    """A copy with the value at `path` replaced, or left out."""
    mended = copy.deepcopy(document)
    holder = mended
    for key in path[:-1]:
        holder = holder[key]
    if change == "left out":
        del holder[path[-1]]
    else:
        holder[path[-1]] = change
    return mended


def read_or_faults(document):
    try:
        return read_night(document), ()
    except BadDocument as refusal:
        return None, refusal.faults


@pytest.mark.parametrize("change", CHANGES, ids=[str(each)[:12] for each in CHANGES])
def test_a_document_with_anything_anywhere_is_read_or_refused_in_words(thursday, change):
    for path in list(places(thursday))[1:]:
        night, found = read_or_faults(changed(thursday, path, change))
        if night is None:
            assert found and all(fault.text for fault in found)
        else:
            assert read_night(parse(dump_night(night))) == night


# --- writing ---------------------------------------------------------------------


def test_the_canonical_form_is_read_back_byte_for_byte(thursday):
    data = dump_night(read_night(thursday))
    assert data.endswith(b"}\n") and dump_night(read_night(parse(data))) == data


def test_the_order_of_keys_makes_no_difference(thursday):
    backwards = json.loads(json.dumps(thursday), object_pairs_hook=lambda pairs: dict(reversed(pairs)))
    assert dump_night(read_night(backwards)) == dump_night(read_night(thursday))


def test_a_ruleset_in_a_night_is_written_as_it_is_by_itself(thursday):
    night = read_night(thursday)
    written = json.loads(dump_night(night))["rulesets"]["ponds"]
    assert json.dumps(written) == json.dumps(ruleset_to_document(night.rulesets["ponds"]))
