"""The campaign document: back and forth without loss, every fault at once, and one shape in schema and reader."""

from __future__ import annotations

import copy
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from league.engines.documents.campaign import (
    FORMAT,
    read_bytes,
    read_campaign,
    read_fact,
    read_orders,
    write_campaign,
    write_fact,
    write_orders,
)
from league.engines.documents.campaign_schema import schema
from league.engines.documents.campaign_shape import FACTS
from league.engines.documents.reading import BadDocument, schema_of
from league.engines.war import Hold, Move, SendSupply, replay
from tests.engines.war.everything import every_kind
from tests.engines.war.world import CAMPAIGN, Book

DOCUMENT = write_campaign(CAMPAIGN, every_kind())
VALIDATOR = Draft202012Validator(schema_of("campaign"))


def faults_of(document):
    try:
        read_campaign(document)
    except BadDocument as failure:
        return {each.place: each.text for each in failure.faults}
    return {}


def changed(**parts):
    return {**copy.deepcopy(DOCUMENT), **parts}


def test_a_campaign_comes_back_as_it_was_written():
    found = read_bytes(json.dumps(DOCUMENT).encode())
    assert (found.campaign, found.facts) == (CAMPAIGN, every_kind())


def test_every_kind_of_fact_is_in_the_example():
    assert {type(each) for each in every_kind()} == set(FACTS)


@pytest.mark.parametrize("fact", every_kind(), ids=lambda each: f"{type(each).__name__}-{each.id}")
def test_a_fact_comes_back_on_its_own(fact):
    assert read_fact(json.loads(json.dumps(write_fact(fact)))) == fact


def test_orders_come_back_on_their_own():
    orders = (
        Move(force="pikes", roads=("dyke", "toll")),
        Hold(force="sappers"),
        SendSupply(origin="a", to="b", amount=1),
    )
    assert read_orders(write_orders(orders)) == orders


def test_the_shipped_schema_is_that_of_the_reader():
    assert schema_of("campaign") == schema(FORMAT)


def test_the_schema_is_a_schema_and_fits_what_is_written():
    Draft202012Validator.check_schema(schema_of("campaign"))
    assert list(VALIDATOR.iter_errors(DOCUMENT)) == []


def test_everything_wrong_is_named_at_once():
    document = changed(extra=1)
    del document["name"]
    document["rules"]["captured_percent"] = "half"
    document["facts"][1]["orders"][0]["kind"] = "teleport"
    document["facts"][2]["turn"] = 0
    assert faults_of(document) == {
        "": "'name' is missing.",
        "/extra": "The document knows no such field here.",
        "/rules/captured_percent": "This must be a whole number.",
        "/facts/1/orders/0/kind": "This must be one of: move, hold, dig_in, rebuild, build_depot, send_supply.",
        "/facts/2/turn": "This must be from 1 to 1000000000.",
    }


def test_names_that_name_nothing_are_faults_across_the_parts():
    document = changed()
    document["forces"][0]["region"] = "nowhere"
    document["forces"][1]["faction"] = "nobody"
    document["depots"][0]["region"] = "elsewhere"
    document["rules"]["grounds"][0]["scenarios"][0] = "picnic"
    document["facts"][1]["faction"] = "nobody"
    assert faults_of(document) == {
        "/forces/0/region": "The map has no region 'nowhere'.",
        "/forces/1/faction": "There is no faction 'nobody'.",
        "/depots/0/region": "The map has no region 'elsewhere'.",
        "/stocks/2": "'wardens' has no depot and no source of supply in 'gate'.",
        "/rules/grounds/0/scenarios/0": "The ruleset has no scenario 'picnic'.",
        "/facts/1/faction": "There is no faction 'nobody'.",
    }


def test_a_road_to_itself_is_a_fault_of_the_map():
    document = changed()
    document["map"]["roads"][0]["b"] = document["map"]["roads"][0]["a"]
    assert list(faults_of(document)) == ["/map/roads/0/b"]


def test_a_fact_supersedes_an_earlier_one_of_its_kind_and_only_once():
    document = changed()
    told = [each for each in document["facts"] if each["kind"] == "seed"]
    document["facts"] = [told[0], {**told[1], "kind": "closed"}]
    for name in ("commitment", "seed"):
        del document["facts"][1][name]
    assert faults_of(document) == {"/facts/1/supersedes": "A fact supersedes one of its own kind and turn."}
    document["facts"] = [told[0], told[1], {**told[1], "id": "again", "sequence": 90}]
    assert set(faults_of(document)) == {"/facts/1/supersedes", "/facts/2/supersedes"}


def test_faults_of_the_ruleset_are_told_with_their_place():
    document = changed()
    del document["ruleset"]["unit_classes"]
    assert list(faults_of(document)) == ["/ruleset"]


def test_a_document_without_facts_is_a_war_about_to_begin():
    found = read_campaign(write_campaign(CAMPAIGN))
    assert [state.turn for state in replay(found.campaign, found.facts)] == [0, 1]


def test_a_replay_of_what_was_read_is_the_replay_of_what_was_written():
    book = Book()
    book.turn(1, commons=[Move(force="pikes", roads=("dyke",))], wardens=[Move(force="lancers", roads=("toll",))])
    found = read_bytes(json.dumps(write_campaign(CAMPAIGN, book.facts)).encode())
    assert replay(found.campaign, found.facts) == replay(CAMPAIGN, book.facts)


def test_a_number_that_is_a_name_may_be_written_with_a_point():
    """JSON knows one kind of number: 1.0 is the whole number 1."""
    document = changed()
    document["facts"][1]["id"] = 4711.0
    assert faults_of(document) == {}
    assert read_bytes(json.dumps(document).encode()).facts[1].id == 4711


def spots(value, place=()):
    """Every place in a document, the ruleset left out: it has its own schema."""
    yield place
    if place == ("ruleset",):
        return
    if isinstance(value, dict):
        for key, each in value.items():
            yield from spots(each, (*place, key))
    elif isinstance(value, list):
        for number, each in enumerate(value):
            yield from spots(each, (*place, number))


SPOTS = [each for each in spots(DOCUMENT) if each and each[0] != "ruleset"]
JUNK = st.sampled_from([None, True, 0, -1, 1.0, 2.5, "", "x", 10**10, [], {}, [1], {"kind": "hold"}, "move", "commons"])


@given(st.sampled_from(SPOTS), JUNK | st.just("<gone>"))
def test_schema_and_reader_agree_on_what_a_document_is(place, junk):
    """Whatever is put in any place: the reader has a fault of shape exactly where the schema has one."""
    document = copy.deepcopy(DOCUMENT)
    inner = document
    for step in place[:-1]:
        inner = inner[step]
    if junk == "<gone>":
        del inner[place[-1]]
    else:
        inner[place[-1]] = copy.deepcopy(junk)
    wrong = next(VALIDATOR.iter_errors(document), None) is not None
    faults = faults_of(document)
    if wrong:
        assert faults
    else:
        # What is left are faults across the parts, which no schema sees.
        of_shape = ("This must", "The document knows", "'kind' is")
        assert [text for text in faults.values() if text.startswith(of_shape)] == []
