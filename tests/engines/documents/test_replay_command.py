from __future__ import annotations

import io
import json

import pytest
from django.core.management import CommandError, call_command

from league.engines.documents.campaign import write_campaign
from league.engines.war import Move
from tests.engines.war.world import CAMPAIGN, Book


@pytest.fixture
def file_of(tmp_path):
    def write(document) -> str:
        path = tmp_path / "war.json"
        path.write_text(json.dumps(document), encoding="utf-8")
        return str(path)

    return write


@pytest.fixture
def fought():
    """The pikes take the empty Sedge Crossing in turn 1; turn 2 is being planned."""
    book = Book()
    book.turn(1, commons=[Move(force="pikes", roads=("dyke",))])
    return write_campaign(CAMPAIGN, book.facts)


def replayed(*arguments) -> str:
    out = io.StringIO()
    call_command("replay", *arguments, stdout=out)
    return out.getvalue()


# These tests do not ask for the database, so pytest-django blocks it: a query would fail them.


def test_each_turn_is_told_in_plain_sentences(fought, file_of):
    text = replayed(file_of(fought))
    assert "The pikes marches from The Mere to Sedge Crossing." in text
    assert "Commons of Arrel take Sedge Crossing." in text


def test_json_has_every_turn_and_who_holds_what(fought, file_of):
    turns = json.loads(replayed(file_of(fought), "--json"))["turns"]
    assert [each["turn"] for each in turns] == [0, 1, 2]
    assert [each["control"].get("sedge") for each in turns] == [None, "commons", "commons"]


def test_stocks_are_the_sum_of_their_entries(fought, file_of):
    turns = json.loads(replayed(file_of(fought), "--json"))["turns"]
    summed = {}
    for turn in turns:
        for each in turn["entries"]:
            place = (each["region"], each["faction"])
            summed[place] = summed.get(place, 0) + each["amount_x100"]
        kept = {(each["region"], each["faction"]): each["amount_x100"] for each in turn["stocks"]}
        assert kept == {place: amount for place, amount in summed.items() if amount}


def test_a_file_that_is_no_campaign_is_refused_with_every_fault(file_of):
    with pytest.raises(CommandError) as refused:
        replayed(file_of({"format": "drumhead campaign 1", "name": 3}))
    assert "'map' is missing" in str(refused.value)
    assert "'ruleset' is missing" in str(refused.value)


def test_a_file_that_is_not_there_is_said_so(tmp_path):
    with pytest.raises(CommandError, match="cannot be read"):
        replayed(str(tmp_path / "nothing.json"))
