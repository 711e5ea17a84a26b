"""Two organisers, each pressing more than once, publish one draft at the same moment: there is one round."""

from __future__ import annotations

import json
from uuid import uuid4

import pytest

pytestmark = [pytest.mark.race, pytest.mark.xdist_group("race")]

ORGANISERS = ("Mila", "Brannoc")


def asked(site, method, who, path, body):
    """A request of any method, sent alone; its answer."""
    _post, address, sent, headers = site.told(who, path, body)
    [(status, answer)] = site.at_once([(method, address, sent, headers)])
    assert status < 300, answer
    return json.loads(answer) if answer else None


@pytest.fixture
def swiss(site):
    """A Swiss season of three with two organisers; its address."""
    offices = {"is_organiser": True, "is_umpire": False, "is_quartermaster": False}
    asked(site, "PATCH", "Mila", f"members/{site.club['members']['Brannoc']}/offices/", offices)
    season = {
        "submission": str(uuid4()),
        "ruleset": site.club["ruleset"],
        "name": f"Swiss {uuid4().hex[:8]}",
        "starts_on": "2026-03-01",
        "rules": {"scheme": {"win_x2": 6, "draw_x2": 2, "loss_x2": 0}},
    }
    made = asked(site, "POST", "Mila", "seasons/", season)
    path = f"seasons/{made['id']}/"
    asked(site, "PUT", "Mila", f"{path}format/", {"pairing": {"format": "swiss", "rounds": 5}})
    for member in site.club["members"].values():
        asked(site, "POST", "Mila", f"{path}entrants/", {"member_ids": [member]})
    return path


@pytest.mark.parametrize("number", [1, 2, 3])
def test_one_draft_published_by_two_organisers_at_once_is_one_round(site, swiss, number):
    for _round in range(number):
        asked(site, "POST", "Mila", f"{swiss}rounds/", {})
    draft = asked(site, "GET", "Mila", f"{swiss}rounds/{number}/draft/", {})
    presses = [
        site.told(who, f"{swiss}rounds/{number}/publication/", {"seen": draft["digest"]})
        for who in ORGANISERS
        for _press in range(3)
    ]
    answers = site.at_once(presses)
    assert {status for status, _answer in answers[:3]} | {status for status, _answer in answers[3:]} == {200, 409}
    # Whoever was quicker is told so each time; the other is told who it was.
    assert sorted(len({status for status, _answer in each}) for each in (answers[:3], answers[3:])) == [1, 1]
    told = next(answer for status, answer in answers if status == 409)
    assert "was published by" in told
    pairings = asked(site, "GET", "Mila", f"{swiss}rounds/{number}/pairings/", {})
    seated = [seat["entrant"] for pairing in pairings for seat in pairing["seats"]]
    assert len(seated) == len(set(seated)) == len(site.club["members"])
