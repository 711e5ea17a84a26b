"""A club's evening, and the season around it, by programs alone: nothing but addresses of the API and three tokens.

The numbers are reckoned by hand from the shipped ruleset "Reeds and Ferrymen":

* line foot that is no veteran throws a die for each fallen figure: 1-2 lost for good, 3 misses one battle, 4-6 back;
* Chance Meeting has no objectives: the score is given, a difference of two or less is a draw;
* this season gives 3 points for a win, 1 for a draw, none for a defeat: 6, 2 and 0 as half-points.
"""

from __future__ import annotations

from io import StringIO
from types import SimpleNamespace
from uuid import uuid4

import pytest
from django.core.management import call_command
from rest_framework.test import APIClient

from accounts.services import issue_token
from league.rulesets.queries import shipped_documents

CLUB = "/api/v1/clubs/weir-street"
DAY = "2026-03-19"
PASTED = "Leader: Leader, 2, 50 pts\nRed Company: line, 10, 80 pts\nBlue Company: line, 8, 70 pts\nWhite Company: line, 10, 80 pts"
MISTYPED = PASTED.replace("Blue Company: line", "Blue Company: lnie")
RULES = {"scheme": {"win_x2": 6, "draw_x2": 2, "loss_x2": 0}, "tie_breaks": [{"name": "wins"}]}


class Program:
    """A program with a token: sends JSON, says what came back, and stops at any answer it did not expect."""

    def __init__(self, member):
        _, secret = issue_token(member.user, name="program", may_write=True)
        self.client = APIClient()
        self.client.credentials(HTTP_AUTHORIZATION=f"Bearer {secret}")

    def get(self, address):
        return self.answered(self.client.get(f"{CLUB}/{address}"), 200)

    def post(self, address, body=None, *, code=200):
        return self.answered(self.client.post(f"{CLUB}/{address}", body or {}), code)

    def answered(self, answer, code):
        assert answer.status_code == code, answer.content
        return answer.json()


def claim(units, *, first, second, **changes):
    """Red Company loses `first` figures on side 1, White Company `second` on side 2."""
    brannocs, ceridens = units
    return {
        "submission": str(uuid4()),
        "fought_on": DAY,
        "is_full": True,
        "sides": [
            {"position": 1, "score": 12, "casualties": [{"unit_id": brannocs["Red Company"], "figures_lost": first}]},
            {"position": 2, "score": 7, "casualties": [{"unit_id": ceridens["White Company"], "figures_lost": second}]},
        ],
        **changes,
    }


def dice(report, *thrown):
    """The dice in the order of the sides."""
    lines = [line for side in report["sides"] for line in side["casualties"]]
    return {
        "rolls": [{"casualty": line["id"], "results": list(faces)} for line, faces in zip(lines, thrown, strict=True)]
    }


def today(program, roster, unit):
    state = program.get(f"rosters/{roster}/units/{unit}/")["today"]
    return {
        "present": state["present"],
        "away": {each["games_left"]: each["figures"] for each in state["recovering"]},
        "lost": state["lost"],
        "waiting": state["awaiting_dice"],
        "experience": state["experience"],
    }


def table(program, season):
    return [
        (row["rank"], row["name"], row["points_x2"], row["won"], row["lost"], row["score_for"], row["score_against"])
        for row in program.get(f"seasons/{season}/standings/")["rows"]
    ]


@pytest.fixture
def evening(organiser, member, opponent):
    """Everything up to the first die: ruleset, season, round, pairing, two rosters from pasted text."""
    odalys, brannoc, ceriden = Program(organiser), Program(member), Program(opponent)
    ruleset = odalys.post("rulesets/", {"document": shipped_documents()["ferry_skirmish"]}, code=201)["id"]
    facts = {"submission": str(uuid4()), "ruleset": ruleset, "name": "Spring", "starts_on": DAY, "rules": RULES}
    season = odalys.post("seasons/", facts, code=201)["id"]
    keys = [
        odalys.post(f"seasons/{season}/entrants/", {"member_ids": [who.pk]}, code=201)["id"]
        for who in (member, opponent)
    ]
    number = odalys.post(f"seasons/{season}/rounds/", {"on": DAY}, code=201)["number"]
    pairing = {"submission": str(uuid4()), "entrants": keys, "scenario": "chance_meeting", "on": DAY}
    game = odalys.post(f"seasons/{season}/rounds/{number}/pairings/", pairing, code=201)["game"]
    rosters = [roster_from_text(program, ruleset) for program in (brannoc, ceriden)]
    units = [
        {unit["name"]: unit["id"] for unit in program.get(f"rosters/{roster}/units/")}
        for program, roster in zip((brannoc, ceriden), rosters, strict=True)
    ]
    return SimpleNamespace(
        odalys=odalys, brannoc=brannoc, ceriden=ceriden, season=season, game=game, rosters=rosters, units=units
    )


def roster_from_text(program, ruleset):
    facts = {"submission": str(uuid4()), "ruleset": ruleset, "name": "First into the reeds", "points_limit": 300}
    roster = program.post("rosters/", facts, code=201)
    program.post(f"rosters/{roster['id']}/import/", {"text": PASTED, "version": roster["version"], "dry_run": False})
    return roster["id"]


def test_a_dry_run_names_the_line_that_cannot_be_read_and_writes_nothing(evening):
    roster = evening.brannoc.get(f"rosters/{evening.rosters[0]}/")
    body = {"text": MISTYPED, "version": roster["version"]}
    read = evening.brannoc.post(f"rosters/{roster['id']}/import/", body)
    assert [(line["line_number"], line["text"]) for line in read["bad_lines"]] == [(3, "Blue Company: lnie, 8, 70 pts")]
    assert (read["written"], len(evening.brannoc.get(f"rosters/{roster['id']}/units/"))) == (False, 4)


def test_a_text_with_a_bad_line_is_not_written_by_half(evening):
    roster = evening.brannoc.get(f"rosters/{evening.rosters[0]}/")
    body = {"text": MISTYPED, "version": roster["version"], "dry_run": False}
    refused = evening.brannoc.post(f"rosters/{roster['id']}/import/", body, code=422)
    assert refused["errors"][0]["pointer"] == "/text" and refused["errors"][0]["detail"].startswith("3: ")
    assert len(evening.brannoc.get(f"rosters/{roster['id']}/units/")) == 4


def test_a_roster_from_text_is_what_was_pasted(evening):
    roster = evening.brannoc.get(f"rosters/{evening.rosters[0]}/")
    # 2 + 10 + 8 + 10 figures; 50 + 80 + 70 + 80 points.
    assert (roster["figures"], roster["points"], roster["is_legal"]) == (30, 280, True)


def test_before_any_report_the_table_is_empty_of_points(evening):
    assert {row[2] for row in table(evening.odalys, evening.season)} == {0}


def test_the_whole_evening(evening):
    e = evening
    named = e.brannoc.post(
        f"games/{e.game}/rosters/",
        {"sides": [{"position": at, "roster_id": roster} for at, roster in enumerate(e.rosters, start=1)]},
    )
    assert [side["roster_id"] for side in named["sides"]] == e.rosters
    e.brannoc.post(f"games/{e.game}/start/")

    # Filed once, sent again, and the name of the submission is good for nothing else.
    told = claim(e.units, first=4, second=6)
    filed = e.brannoc.post(f"games/{e.game}/reports/", told, code=201)
    assert filed["state"] == "awaiting"
    assert e.brannoc.post(f"games/{e.game}/reports/", told)["id"] == filed["id"]
    e.brannoc.post(f"games/{e.game}/reports/", {**told, "notes": "otherwise"}, code=409)

    # Whoever filed it does not confirm it.
    e.brannoc.post(f"reports/{filed['id']}/confirm/", code=403)
    assert e.ceriden.post(f"reports/{filed['id']}/confirm/")["state"] == "confirmed"

    # Before the dice those who fell lie on the field: 10 - 4 and 10 - 6 stand.
    red, white = (e.rosters[0], e.units[0]["Red Company"]), (e.rosters[1], e.units[1]["White Company"])
    waiting = today(e.brannoc, *red)
    assert (waiting["present"], waiting["waiting"]) == (6, 4)

    # Red 1, 3, 4, 6: one lost, one away for a battle, two back. White 1, 2, 2, 3, 5, 6: three, one, two.
    e.brannoc.post(f"reports/{filed['id']}/rolls/", dice(filed, [1, 3, 4, 6], [1, 2, 2, 3, 5, 6]))
    # Experience: 1 for the game, 2 more for the win.
    assert today(e.brannoc, *red) == {"present": 8, "away": {1: 1}, "lost": 1, "waiting": 0, "experience": 3}
    assert today(e.ceriden, *white) == {"present": 6, "away": {1: 1}, "lost": 3, "waiting": 0, "experience": 1}
    assert e.brannoc.get(f"rosters/{red[0]}/")["present"] == 30 - 2
    assert e.ceriden.get(f"rosters/{white[0]}/")["present"] == 30 - 4
    assert table(e.odalys, e.season) == [(1, "Brannoc", 6, 1, 0, 12, 7), (2, "Ceriden", 0, 0, 1, 7, 12)]

    # The organiser corrects the scores, which were written down the wrong way round, and White's losses.
    correction = claim(e.units, first=4, second=2, reason="The sheet was read upside down")
    correction["sides"][0]["score"], correction["sides"][1]["score"] = 7, 12
    mended = e.odalys.post(f"reports/{filed['id']}/corrections/", correction, code=201)
    assert mended["supersedes"] == filed["id"]
    # Red's dice lie where they lay; White's two throw anew.
    again = {"rolls": [{"casualty": mended["sides"][1]["casualties"][0]["id"], "results": [5, 6]}]}
    e.ceriden.post(f"reports/{mended['id']}/rolls/", again)
    assert today(e.brannoc, *red) == {"present": 8, "away": {1: 1}, "lost": 1, "waiting": 0, "experience": 1}
    assert today(e.ceriden, *white) == {"present": 10, "away": {}, "lost": 0, "waiting": 0, "experience": 3}

    # The correction waits for a player in its turn, and then the table has changed sides.
    assert e.brannoc.post(f"reports/{mended['id']}/confirm/")["state"] == "confirmed"
    assert table(e.odalys, e.season) == [(1, "Ceriden", 6, 1, 0, 12, 7), (2, "Brannoc", 0, 0, 1, 7, 12)]
    assert e.brannoc.get(f"reports/{filed['id']}/")["state"] == "superseded"

    said = StringIO()
    call_command("recount", stdout=said)
    assert said.getvalue().endswith(", 0 mismatches\n")
