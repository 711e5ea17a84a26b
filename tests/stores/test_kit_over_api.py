"""A night short of something, healed over the API by nothing but tokens: a shortfall is seen, a spare written down, the
plan heals, the packing list is read, and everything reckoned again agrees."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.core.management import call_command
from rest_framework.test import APIClient

from accounts.services import issue_token
from league.battles.services.games import SidePlan, plan_game
from league.clubs.services.nights import answer_night
from league.rosters.services.facts import UnitFacts
from league.rosters.services.rosters import create_roster
from league.rulesets.queries import current_edition, shipped_documents
from league.rulesets.services.rulesets import create_ruleset

pytestmark = pytest.mark.django_db
CLUB = "/api/v1/clubs/weir-street/"
UNITS = [UnitFacts(name=name, unit_class="line", figures=10, points=80) for name in ("Red Company", "Ochre Company")]


@pytest.fixture
def program():
    """`program(member)` speaks for the member by a token, as a program at home does."""

    def with_token(member):
        _token, secret = issue_token(member.user, name="at home", may_write=True)
        client = APIClient()
        client.credentials(HTTP_AUTHORIZATION=f"Bearer {secret}")
        return client

    return with_token


@pytest.fixture
def evening(club, night, organiser, member, opponent):
    """One game that needs two tokens a side, told apart, and a bag; nothing may stand in."""
    document = shipped_documents()["ferry_skirmish"]
    document["kit"]["needs"] = [each for each in document["kit"]["needs"] if each["key"] in ("activation", "draw_bag")]
    document["kit"]["stand_ins"] = []
    ruleset = create_ruleset(club, document=document, by=organiser)
    sides = []
    for who in (member, opponent):
        roster = create_roster(club, owner=who, ruleset=ruleset, name=who.name, units=UNITS, submission=uuid4(), by=who)
        sides.append(SidePlan(member_ids=[who.pk], roster_id=roster.pk))
        answer_night(night, member=who, answer="coming", by=who)
    plan_game(
        club,
        edition=current_edition(ruleset),
        scenario="",
        on=night.on,
        night=night,
        sides=sides,
        submission=uuid4(),
        by=organiser,
    )
    return night


def missing(told) -> dict[str, int]:
    return {each["name"]: each["missing"] for each in told["shortfalls"]}


def test_a_shortfall_is_healed_by_tokens(program, evening, organiser, member, opponent, capsys):
    keeper, brannoc, ceriden = program(organiser), program(member), program(opponent)

    def kind(name, category, use=""):
        body = {"submission": str(uuid4()), "name": name, "category": category, "use": use}
        return keeper.post(f"{CLUB}kit/kinds/", body, format="json").json()["id"]

    def write_down(client, of, count, colour=""):
        body = {"submission": str(uuid4()), "kind": of, "count": count, "colour": colour}
        answer = client.post(f"{CLUB}kit/holdings/", body, format="json")
        assert answer.status_code == 201, answer.content
        return answer.json()

    tokens, bag = kind("Activation token", "token", "activation"), kind("Draw bag", "bag")
    for client, colour in ((brannoc, "green"), (ceriden, "yellow")):
        write_down(client, tokens, 6, colour)
    night = f"{CLUB}nights/{evening.pk}/kit/"
    before = keeper.get(night).json()
    assert missing(before) == {"Opaque bag to draw from": 1}
    assert "nobody who comes has anything that could serve" in before["shortfalls"][0]["words"]

    bags = write_down(brannoc, bag, 1)
    after = keeper.get(night).json()
    assert missing(after) == {}
    assert after["is_proven"]

    promised = brannoc.post(f"{night}part/", {"submission": str(uuid4())}, format="json").json()
    assert {each["name"]: each["count"] for each in promised} == {"Activation token": 2, "Draw bag": 1}
    (of_bag,) = [each for each in promised if each["name"] == "Draw bag"]
    assert brannoc.post(f"{night}promises/{of_bag['id']}/pack/", format="json").json()["packed_at"]
    packing = brannoc.get(f"{night}packing/{member.pk}/").json()
    assert {line["name"]: (line["count"], line["is_packed"]) for line in packing["lines"]} == {
        "Activation token, green": (2, False),
        "Draw bag": (1, True),
    }
    found = keeper.get(f"{CLUB}kit/spares/", {"q": "draw bag", "on": evening.on.isoformat()}).json()
    assert (found["found"], found["unknown"]) == (0, [])
    assert brannoc.get(f"{CLUB}kit/holdings/{bags['id']}/").json()["promised"] == 1

    call_command("recount")
    assert capsys.readouterr().out.strip().endswith("0 mismatches")


def test_everything_sent_twice_is_done_once(program, evening, member, kind):
    client = program(member)
    body = {"submission": str(uuid4()), "kind": kind.pk, "count": 3}
    first, again = (client.post(f"{CLUB}kit/holdings/", body, format="json") for _time in range(2))
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json()["id"] == again.json()["id"]
    movement = {"submission": str(uuid4()), "act": "lost", "count": 1, "reason": "Under the floor"}
    for _time in range(2):
        client.post(f"{CLUB}kit/holdings/{first.json()['id']}/movements/", movement, format="json")
    assert client.get(f"{CLUB}kit/holdings/{first.json()['id']}/").json()["held"] == 2
