"""`manage.py pair`: the next round of a season file, with reasons, and no database."""

from __future__ import annotations

import json
from io import StringIO

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError


@pytest.fixture
def document():
    """Five entrants after one Swiss round: Ada and Cy won, Eb had the bye."""
    return {
        "format": "drumhead season 1",
        "name": "Swiss on the Sedge",
        "starts_on": "2026-01-01",
        "seed": "sedge",
        "rules": {"scheme": {"win_x2": 2, "draw_x2": 1, "loss_x2": 0, "bye_x2": 2}},
        "pairing": {"format": "swiss", "rounds": 3},
        "entrants": [{"id": key, "name": key.title()} for key in ("ada", "bo", "cy", "di", "eb")],
        "rounds": [{"number": 1}],
        "games": [
            {"id": "1", "round": 1, "sides": [{"entrant": "ada", "score": 9}, {"entrant": "bo", "score": 4}]},
            {"id": "2", "round": 1, "sides": [{"entrant": "cy", "score": 9}, {"entrant": "di", "score": 4}]},
            {"id": "3", "round": 1, "sides": [{"entrant": "eb", "unplayed": "bye"}]},
        ],
    }


@pytest.fixture
def run(tmp_path):
    def act(document, *options):
        path = tmp_path / "season.json"
        path.write_text(json.dumps(document), encoding="utf-8")
        out = StringIO()
        call_command("pair", str(path), *options, stdout=out)
        return out.getvalue()

    return act


def test_the_next_round_is_printed_with_its_reasons(run, document):
    told = run(document)
    assert told.startswith("Round 2 of Swiss on the Sedge")
    assert "They have not met before." in told
    assert "has the bye" in told


def test_nobody_meets_again_and_nobody_has_a_second_bye(run, document):
    (division,) = json.loads(run(document, "--json"))["divisions"]
    met = {frozenset(pairing["entrants"]) for pairing in division["pairings"]}
    assert not met & {frozenset({"ada", "bo"}), frozenset({"cy", "di"})}
    assert division["byes"][0]["entrant"] != "eb"


def test_who_is_level_meets_where_possible(run, document):
    (division,) = json.loads(run(document, "--json"))["divisions"]
    assert {frozenset({"ada", "cy"}), frozenset({"ada", "eb"}), frozenset({"cy", "eb"})} & {
        frozenset(pairing["entrants"]) for pairing in division["pairings"]
    }


def test_the_order_of_the_entrants_in_the_file_changes_nothing(run, document):
    turned = {**document, "entrants": document["entrants"][::-1]}
    assert run(turned) == run(document)


def test_a_round_of_a_round_robin_is_that_of_the_berger_table(run, document):
    """FIDE Handbook C.05 annex 1, five or six players, round 2: 6-4, 5-3, 1-2."""
    seeded = [{**entrant, "seed": place} for place, entrant in enumerate(document["entrants"], start=1)]
    told = json.loads(run({**document, "pairing": {"format": "round_robin"}, "entrants": seeded}, "--json"))
    (division,) = told["divisions"]
    assert [pairing["entrants"] for pairing in division["pairings"]] == [["eb", "cy"], ["ada", "bo"]]
    assert [bye["entrant"] for bye in division["byes"]] == ["di"]


def test_a_season_typed_in_is_refused(run, document):
    with pytest.raises(CommandError, match="are not drafted"):
        run({name: value for name, value in document.items() if name != "pairing"})


def test_what_is_wrong_with_the_format_is_said_with_its_place(run, document):
    with pytest.raises(CommandError, match="/pairing/reach: This is no option of swiss"):
        run({**document, "pairing": {"format": "swiss", "reach": 2}})
