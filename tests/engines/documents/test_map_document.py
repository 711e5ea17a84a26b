from __future__ import annotations

import copy
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from league.engines.documents.map import MapDocument, dump_map, read_map, unready
from league.engines.documents.reading import BadDocument, parse, schema_of
from league.engines.maps import Faction
from tests.engines.supply.wars import war_at_random


def faults(document) -> list[str]:
    with pytest.raises(BadDocument) as failure:
        read_map(document)
    return [str(fault) for fault in failure.value.faults]


def test_the_schema_is_one_and_forbids_what_it_does_not_know():
    schema = schema_of("map")
    Draft202012Validator.check_schema(schema)
    for part in (schema, *(each for each in schema["$defs"].values() if each["type"] == "object")):
        assert part["additionalProperties"] is False
        assert all("description" in each for each in part["properties"].values())


def test_a_document_becomes_a_map_and_a_situation(weir_war):
    read = read_map(weir_war)
    assert [each.name for each in read.map.regions] == ["Harrow Ford", "Millstone", "Tor", "Weir Quay"]
    assert read.map.road("lane").kind == "sea_lane"
    assert read.situation.friends == {
        "irregulars": frozenset({"bargees"}),
        "wardens": frozenset(),
        "bargees": frozenset({"irregulars"}),
    }
    assert read.forces[1].importance == 1


def test_what_is_left_out_has_its_stated_default():
    read = read_map(
        {
            "format": "drumhead map 1",
            "name": "Small",
            "regions": [{"key": "a", "name": "A", "x": 0, "y": 1000}],
            "roads": [],
        }
    )
    [region] = read.map.regions
    assert (region.terrain, region.worth, region.stronghold, region.port, region.produces) == ("", 0, False, False, 0)
    assert (read.factions, read.forces, read.holders) == ((), (), {})


def test_a_map_goes_round_byte_for_byte(weir_war):
    once = dump_map(read_map(weir_war))
    assert dump_map(read_map(parse(once))) == once
    assert json.loads(once)["forces"][0]["importance"] == 2


def test_the_order_of_keys_in_a_file_makes_no_difference(weir_war):
    turned = json.loads(json.dumps(weir_war), object_pairs_hook=lambda pairs: dict(reversed(pairs)))
    assert dump_map(read_map(turned)) == dump_map(read_map(weir_war))


@given(st.integers(0, 10**9))
@settings(max_examples=60, deadline=None)
def test_any_map_goes_round(seed):
    situation = war_at_random(seed)
    document = MapDocument(
        map=situation.map,
        factions=tuple(Faction(key=key, name=key.title()) for key in situation.factions),
        holders=situation.holders,
        contested=tuple(sorted(situation.contested)),
        stocks=situation.stocks,
        forces=situation.forces,
    )
    assert read_map(parse(dump_map(document))) == document


def test_every_fault_of_the_parts_is_named_with_its_place(weir_war):
    weir_war["name"] = " "
    weir_war["regions"][0]["x"] = 1001
    weir_war["roads"][0]["loss"] = -1
    weir_war["roads"][1]["kind"] = "tunnel"
    weir_war["stocks"][0]["loads"] = "many"
    weir_war["weather"] = "fog"
    assert faults(weir_war) == [
        "Unknown here: 'weather'.",
        "/name: This must not be blank.",
        "/regions/0/x: This must be 1000 or less; it is 1001.",
        "/roads/0/loss: This must be 0 or more; it is -1.",
        "/roads/1/kind: This must be one of 'road', 'river', 'sea_lane'; it is 'tunnel'.",
        "/stocks/0/loads: This must be a whole number.",
    ]


def test_every_fault_across_the_parts_is_named_with_its_place(weir_war):
    weir_war["roads"][0]["b"] = weir_war["roads"][0]["a"]
    weir_war["roads"].append(copy.deepcopy(weir_war["roads"][1]))
    weir_war["roads"][-1]["b"] = "moon"
    weir_war["regions"][1]["name"] = "harrow ford"
    weir_war["holders"]["mars"] = "wardens"
    weir_war["holders"]["tor"] = "pirates"
    weir_war["contested"] = ["venus"]
    weir_war["stocks"].append(weir_war["stocks"][0])
    weir_war["forces"][0] |= {"region": "pluto", "faction": "pirates"}
    weir_war["sendings"][0]["to"] = weir_war["sendings"][0]["origin"]
    assert faults(weir_war) == [
        "/regions/0/name: 2 regions are called Harrow Ford.",
        "/regions/1/name: 2 regions are called harrow ford.",
        "/roads/0/b: The road ford-mill leads from Harrow Ford to itself.",
        "/roads/3/b: The road mill-tor leads to moon, which is no region of the map.",
        "/roads/1/key: 2 roads have the key mill-tor.",
        "/roads/3/key: 2 roads have the key mill-tor.",
        "/holders/mars: wardens is said to hold mars, which is no region of the map.",
        "/holders/tor: tor is said to be held by pirates, which is no faction.",
        "/contested: venus is said to be contested, but is no region of the map.",
        "/stocks/0: irregulars has 2 stocks in ford, where one would hold it all.",
        "/stocks/1: The stock in tor is said to belong to wardens, but pirates holds the region.",
        "/stocks/2: irregulars has 2 stocks in ford, where one would hold it all.",
        "/forces/0/faction: There is no faction pirates.",
        "/forces/0/region: There is no region pluto on the map.",
        "/sendings/0/to: ford cannot send supply to itself.",
    ]


def test_holders_need_factions(weir_war):
    for part in ("factions", "stocks", "forces", "sendings"):
        del weir_war[part]
    weir_war["holders"] = {"ford": "irregulars"}
    assert faults(weir_war) == ["/holders/ford: There are no factions that could hold it."]


def test_a_map_on_which_no_war_could_start_is_read_and_said_to_be_unready(weir_war):
    weir_war["roads"] = weir_war["roads"][:1]
    assert [each.text for each in unready(read_map(weir_war))] == [
        "No road leads from the rest of the map to Weir Quay.",
        "No road leads from the rest of the map to Tor.",
        "No source of supply is held by The Bargees.",
    ]


def test_strongholds_are_asked_for_where_the_war_is_about_them(weir_war):
    assert "No stronghold is held by The Wardens." in [
        each.text for each in unready(read_map(weir_war), strongholds=True)
    ]
