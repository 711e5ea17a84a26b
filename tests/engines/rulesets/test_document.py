"""A ruleset and its document are one thing in two forms; the shipped ones and the shipped schema agree with both."""

from __future__ import annotations

import copy
import json
import typing
from pathlib import Path

import jsonschema
import pytest

import league.rulesets
from league.engines.rulesets import BadRuleset, parse_ruleset, ruleset_schema, ruleset_to_document
from league.engines.rulesets.model import Bonus as RulesetBonus
from league.engines.rulesets.model import Scoring
from league.engines.rulesets.parse import TIE_BREAKS
from league.engines.standings.rules import Bonus, BonusKind, Scheme, TieBreakName

SHIPPED = sorted((Path(league.rulesets.__file__).parent / "data").glob("*.json"))
DOCUMENTS = [json.loads(path.read_text(encoding="utf-8")) for path in SHIPPED]

shipped = pytest.mark.parametrize("document", DOCUMENTS, ids=[path.stem for path in SHIPPED])


def obeys_schema(document):
    return jsonschema.Draft202012Validator(ruleset_schema()).is_valid(document)


def parses(document):
    try:
        parse_ruleset(document)
    except BadRuleset:
        return False
    return True


@shipped
def test_a_shipped_ruleset_is_written_back_as_it_was_read(document):
    assert ruleset_to_document(parse_ruleset(document)) == document


@shipped
def test_writing_and_reading_gives_the_same_ruleset(document):
    ruleset = parse_ruleset(document)
    assert parse_ruleset(ruleset_to_document(ruleset)) == ruleset


@shipped
def test_a_shipped_ruleset_obeys_the_schema(document):
    jsonschema.Draft202012Validator(ruleset_schema()).validate(document)


@shipped
def test_a_shipped_ruleset_has_a_scenario_for_three_sides(document):
    assert 3 in [len(scenario.sides) for scenario in parse_ruleset(document).scenarios]


@shipped
def test_every_unit_of_a_shipped_ruleset_has_a_casualty_table(document):
    ruleset = parse_ruleset(document)
    qualities = ["", *(each.key for each in ruleset.qualities)]
    assert all(ruleset.table_for(each.key, quality) for each in ruleset.unit_classes for quality in qualities)


def test_every_field_of_the_kit_part_reads_back_as_it_was_written():
    document = DOCUMENTS[0] | {"kit": FULL_KIT}
    ruleset = parse_ruleset(document)
    assert parse_ruleset(ruleset_to_document(ruleset)) == ruleset
    assert ruleset.kit.need("dice").extras[0].count == 6
    assert ruleset.kit.need("marsh").wanted.depth_mm == 1200


@shipped
def test_a_ruleset_of_before_there_was_a_kit_part_is_written_as_it_always_was(document):
    before = {key: value for key, value in document.items() if key != "kit"}
    assert json.dumps(ruleset_to_document(parse_ruleset(before))) == json.dumps(before)


def test_one_shipped_ruleset_rolls_for_figures_and_one_for_units():
    ways = [{table.roll_for for table in parse_ruleset(document).casualty_tables} for document in DOCUMENTS]
    assert ways == [{"figure"}, {"unit"}]


def test_the_schema_is_a_schema():
    jsonschema.Draft202012Validator.check_schema(ruleset_schema())


def places(value, path=()):
    """Every place in a document."""
    yield path
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, each in inner:
        yield from places(each, (*path, key))


def changed(document, path, change):
    """A copy with the value at `path` replaced, or left out, or with a field added beside it."""
    mended = copy.deepcopy(document)
    holder = mended
    for key in path[:-1]:
        holder = holder[key]
    if change == "left out":
        del holder[path[-1]]
    elif change == "added to" and isinstance(holder, dict):
        holder["odd_one"] = 1
    else:
        holder[path[-1]] = change
    return mended


# Values of a wrong kind or size for nearly every field; what fits by chance must fit both.
CHANGES = ["left out", "added to", None, True, -1, 0, 1, 2.5, 100_001, "", "Not a key", "x" * 81, [], {}, "a\x07b"]

# What a schema cannot say: how parts agree with each other. Those codes alone may come from the parser alone.
OF_SENSE = {
    "twice",
    "unknown_key",
    "least_above_most",
    "limit_twice",
    "no_legal_roster",
    "range_backwards",
    "outside_die",
    "gap",
    "overlap",
    "never_reached",
    "shared_without_most",
    "always_a_draw",
    "steps_out_of_order",
    "bonus_without_count",
    "bonus_with_count",
    "gear_without_name",
    "extras_without_pool",
    "asks_for_nothing",
    "table_not_shared",
    "apart_in_one_colour",
    "sides_without_die",
    "depth_without_size",
}


# Every field that the kit part of a ruleset may have, once.
FULL_WANTED = {
    "category": "mat",
    "use": "marsh",
    "sides": None,
    "size_mm": 1800,
    "depth_mm": 1200,
    "tolerance_mm": 30,
    "scale_mm": 28,
    "scale_tolerance_mm": 4,
    "colour": "green",
}
FULL_KIT = {
    "scale_mm": 28,
    "scale_tolerance_mm": 4,
    "needs": [
        {
            "key": "dice",
            "name": "Dice",
            "wanted": {"category": "die", "sides": 6},
            "per": "pool",
            "count": 1,
            "of": 2,
            "sharing": "shared",
            "gear": ["rifles"],
            "extras": [{"gear": "machine gun", "count": 6}],
            "most": 36,
            "spare": 1,
            "importance": "wanted",
            "make": "make",
            "classes": [],
            "scenarios": [],
        },
        {"key": "marsh", "name": "Marsh", "wanted": FULL_WANTED, "per": "table"},
    ],
    "stand_ins": [
        {
            "need": "dice",
            "piece": {"category": "token"},
            "takes": 2,
            "covers": 3,
            "rank": 2,
            "loss": 1,
            "at_home": True,
            "note": "Drawn from a cup",
        }
    ],
}


def faults_of_form(document):
    try:
        parse_ruleset(document)
    except BadRuleset as refused:
        return [each for each in refused.violations if each.code not in OF_SENSE]
    return []


@shipped
@pytest.mark.parametrize("change", CHANGES, ids=repr)
def test_schema_and_parser_agree_on_every_small_change(document, change):
    small = copy.deepcopy(document) | {"scenarios": document["scenarios"][:1], "kit": FULL_KIT}
    validator = jsonschema.Draft202012Validator(ruleset_schema())
    for path in list(places(small))[1:]:
        mended = changed(small, path, change)
        assert validator.is_valid(mended) == (faults_of_form(mended) == []), (path, change)


def test_schema_and_parser_agree_on_documents_by_hand():
    smallest = {key: DOCUMENTS[0][key] for key in ("format", "name", "unit_classes")}
    cases = [smallest, smallest | {"scoring": {}}, smallest | {"table": None}, [], {}, smallest | {"summary": "a\nb"}]
    assert [obeys_schema(each) for each in cases] == [True, True, False, False, False, True]
    assert [parses(each) for each in cases] == [True, True, False, False, False, True]


def test_the_season_scoring_speaks_the_language_of_the_standings():
    ours = {field: getattr(Scoring(), field) for field in Scoring.__dataclass_fields__ if field != "tie_breaks"}
    theirs = {field: getattr(Scheme(), field) for field in Scheme.__dataclass_fields__}
    assert ours == theirs


def test_the_bonuses_have_the_fields_and_kinds_of_the_standings():
    assert set(RulesetBonus.__dataclass_fields__) == set(Bonus.__dataclass_fields__)
    kinds = ruleset_schema()["properties"]["scoring"]["properties"]["bonuses"]["items"]["properties"]["kind"]["enum"]
    assert set(kinds) == set(typing.get_args(BonusKind))


def test_the_tie_breaks_are_those_of_the_standings():
    assert {*TIE_BREAKS, "count_total"} == set(typing.get_args(TieBreakName))
