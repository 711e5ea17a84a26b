from __future__ import annotations

import uuid

import pytest
from rest_framework.test import APIRequestFactory

from league.engines.documents.reading import schema_of
from league.engines.documents.season import dump, read_season
from league.seasons.endpoints.files import SeasonSchema
from league.seasons.models import Adjustment, Pairing, Season
from league.seasons.services.imports import import_season
from league.seasons.services.rounds import add_round
from tests import factories
from tests.seasons.conftest import RULES

BASE = "/api/v1/clubs/weir-street/seasons/"


@pytest.fixture
def taken_in(club, ruleset, organiser, document):
    return import_season(club, document=document, ruleset=ruleset, submission=uuid.uuid4(), by=organiser)


def pointers(answer) -> list[str]:
    return [each["pointer"] for each in answer.json()["errors"]]


def test_a_season_is_made_once_however_often_it_is_sent(call, ruleset, organiser):
    body = {
        "submission": str(uuid.uuid4()),
        "ruleset": ruleset.pk,
        "name": "Summer",
        "starts_on": "2026-06-01",
        "rules": RULES,
    }
    answers = [call(organiser).post(BASE, body) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [201, 201]
    assert answers[0].json() == answers[1].json()
    assert answers[0].json()["rules"]["scheme"]["win_x2"] == 6
    assert Season.objects.count() == 1


def test_a_submission_used_for_something_else_is_a_conflict(call, ruleset, organiser):
    body = {
        "submission": str(uuid.uuid4()),
        "ruleset": ruleset.pk,
        "name": "Summer",
        "starts_on": "2026-06-01",
        "rules": RULES,
    }
    call(organiser).post(BASE, body)
    assert call(organiser).post(BASE, {**body, "name": "Winter"}).status_code == 409


def test_rules_that_make_no_sense_are_told_with_their_places(call, ruleset, organiser):
    body = {
        "submission": str(uuid.uuid4()),
        "ruleset": ruleset.pk,
        "name": "Summer",
        "starts_on": "2026-06-01",
        "rules": {"scheme": {"win_x2": "6"}, "tie_breaks": [{"name": "luck"}]},
    }
    answer = call(organiser).post(BASE, body)
    assert answer.status_code == 422
    assert answer["Content-Type"] == "application/problem+json"
    assert set(pointers(answer)) == {"/rules/scheme", "/rules/scheme/win_x2", "/rules/tie_breaks/0/name"}


def test_a_key_nobody_knows_is_refused(call, season, organiser):
    answer = call(organiser).post(f"{BASE}{season.pk}/rounds/", {"nummer": 1})
    assert answer.status_code == 400
    assert pointers(answer) == ["/nummer"]


def test_rules_are_changed_with_a_reason(call, season, organiser):
    rules = {**RULES, "scheme": {"win_x2": 4, "draw_x2": 2, "loss_x2": 0}}
    answer = call(organiser).patch(f"{BASE}{season.pk}/", {"rules": rules, "reason": "So agreed"})
    assert answer.json()["rules"]["scheme"]["win_x2"] == 4


def test_a_season_is_run_over_the_api(call, season, organiser, member, opponent, guest):
    client = call(organiser)
    here = f"{BASE}{season.pk}/"
    for who in (member, opponent, guest):
        assert client.post(f"{here}entrants/", {"member_ids": [who.pk]}).status_code == 201
    assert client.post(f"{here}rounds/", {"on": "2026-01-22"}).json()["number"] == 1
    body = {"submission": str(uuid.uuid4()), "entrants": ["brannoc", "ceriden"]}
    made = client.post(f"{here}rounds/1/pairings/", body).json()
    assert made["state"] == "planned"
    assert client.post(f"{here}rounds/1/pairings/", body).json() == made
    bye = client.post(f"{here}rounds/1/pairings/", {"submission": str(uuid.uuid4()), "entrants": ["gorran"]})
    assert bye.json()["seats"] == [{"entrant": "gorran", "unplayed": "bye", "score": None, "outcome": ""}]
    marks = {"seats": {"brannoc": "forfeit_win", "ceriden": "forfeit_loss"}}
    assert client.post(f"{here}rounds/1/pairings/{made['id']}/marks/", marks).json()["state"] == "unplayed"
    body = {"submission": str(uuid.uuid4()), "entrant": "gorran", "points_x2": -1, "reason": "Late"}
    assert client.post(f"{here}adjustments/", body).status_code == 201
    rows = client.get(f"{here}standings/").json()["rows"]
    assert [(row["entrant"], row["points_x2"]) for row in rows] == [("brannoc", 6), ("gorran", 5), ("ceriden", 0)]
    assert client.delete(f"{here}rounds/1/pairings/{bye.json()['id']}/").status_code == 204
    assert client.post(f"{here}entrants/ceriden/withdraw/", {"reason": "Ill"}).json()["left_reason"] == "Ill"
    assert client.post(f"{here}entrants/ceriden/readmit/").json()["left_at"] is None
    assert client.post(f"{here}close/").json()["closed_at"] is not None
    assert client.post(f"{here}rounds/", {}).status_code == 409


def test_an_unknown_entrant_is_told_with_everything_else(call, season, cast, organiser):
    add_round(season, by=organiser)
    body = {"submission": str(uuid.uuid4()), "entrants": ["nobody", "brannoc", "brannoc"]}
    answer = call(organiser).post(f"{BASE}{season.pk}/rounds/1/pairings/", body)
    assert answer.status_code == 422
    assert [each["code"] for each in answer.json()["errors"]] == ["not_of_season", "twice"]
    assert Pairing.objects.count() == 0


def test_the_table_is_looked_back_at(call, taken_in, member):
    rows = call(member).get(f"{BASE}{taken_in.pk}/standings/?round=1").json()["rows"]
    assert [row["entrant"] for row in rows] == ["brannoc", "hewe", "eels"]
    rows = call(member).get(f"{BASE}{taken_in.pk}/standings/?date=2025-08-01").json()["rows"]
    assert {row["points_x2"] for row in rows} == {0}


@pytest.mark.parametrize("query", ["round=first", "date=2025-02-30", "day=2025-01-01"])
def test_a_look_back_that_cannot_be_read_is_refused(call, taken_in, member, query):
    assert call(member).get(f"{BASE}{taken_in.pk}/standings/?{query}").status_code == 400


@pytest.mark.parametrize("column", ["points", "played", "score_difference", "buchholz"])
def test_the_reasons_of_a_number_add_up_to_it(call, taken_in, member, column):
    cell = call(member).get(f"{BASE}{taken_in.pk}/standings/eels/{column}/").json()
    assert cell["total"] == cell["text"]
    assert cell["reasons"]


@pytest.mark.parametrize("place", ["nobody/points", "eels/luck"])
def test_there_are_no_reasons_for_what_is_not_in_the_table(call, taken_in, member, place):
    assert call(member).get(f"{BASE}{taken_in.pk}/standings/{place}/").status_code == 404


def test_a_season_goes_out_and_comes_in_as_a_document(call, ruleset, organiser, document):
    body = {"submission": str(uuid.uuid4()), "ruleset": ruleset.pk, "document": document}
    made = call(organiser).post(f"{BASE}document/", body).json()
    answer = call(organiser).get(f"{BASE}{made['id']}/document/")
    assert answer.content == dump(read_season(document))


def test_a_document_with_faults_is_told_where(call, ruleset, organiser, document):
    document["games"][0]["sides"][0]["entrant"] = "nobody"
    body = {"submission": str(uuid.uuid4()), "ruleset": ruleset.pk, "document": document}
    answer = call(organiser).post(f"{BASE}document/", body)
    assert answer.status_code == 422
    assert pointers(answer) == ["/document/games/0/sides/0/entrant"]


def test_a_document_nested_without_end_is_refused(call, ruleset, organiser):
    text = '{"document": ' + "[" * 100_000 + "]" * 100_000 + "}"
    answer = call(organiser).generic("POST", f"{BASE}document/", text, content_type="application/json")
    assert answer.status_code == 400


def test_anyone_reads_the_schema_of_season_documents():
    answer = SeasonSchema.as_view()(APIRequestFactory().get("/"))
    assert answer.data == schema_of("season")


@pytest.mark.parametrize("count", [1, 3])
@pytest.mark.parametrize(
    ("what", "queries"), [("", 4), ("entrants/", 6), ("rounds/", 5), ("adjustments/", 5), ("standings/", 10)]
)
def test_lists_take_the_same_queries_however_long(
    call, club, ruleset, season, organiser, member, count, what, queries, django_assert_num_queries
):
    if not what:
        factories.SeasonFactory.create_batch(count - 1, club=club, ruleset=ruleset)
    for number in range(count):
        entrant = factories.EntrantFactory(season=season)
        Adjustment.objects.create(
            season=season, entrant=entrant, points_x2=1, reason="x", by=organiser, at=season.created_at
        )
        factories.RoundFactory(season=season, number=number + 1)
    address = f"{BASE}{season.pk}/{what}" if what else BASE
    client = call(member)
    with django_assert_num_queries(queries):
        answer = client.get(address)
    body = answer.json()
    assert len(body["rows"] if what == "standings/" else body["results"]) == count


READ = [
    "",
    "entrants/",
    "rounds/",
    "rounds/1/pairings/",
    "adjustments/",
    "standings/",
    "standings/eels/points/",
    "document/",
]
CHANGE = [
    ("patch", ""),
    ("post", "close/"),
    ("post", "entrants/"),
    ("post", "entrants/eels/withdraw/"),
    ("post", "entrants/eels/readmit/"),
    ("post", "rounds/"),
    ("post", "rounds/1/pairings/"),
    ("delete", "rounds/1/pairings/1a/"),
    ("post", "rounds/1/pairings/1a/marks/"),
    ("post", "adjustments/"),
]


@pytest.mark.parametrize("what", READ)
def test_members_read_and_strangers_find_nothing(call, club, taken_in, member, outsider, what):
    club.is_public = True
    club.save()
    address = f"{BASE}{taken_in.pk}/{what}"
    assert call(member).get(address).status_code == 200
    assert call(outsider).get(address).status_code == 404
    assert call(None).get(address).status_code == 401


@pytest.mark.parametrize(("method", "what"), CHANGE)
def test_only_organisers_of_the_club_change_a_season(call, taken_in, member, outsider, method, what):
    address = f"{BASE}{taken_in.pk}/{what}"
    assert getattr(call(member), method)(address, {}).status_code == 403
    assert getattr(call(outsider), method)(address, {}).status_code == 404


@pytest.mark.parametrize("what", ["", "document/"])
def test_only_organisers_make_seasons(call, club, member, what):
    assert call(member).post(f"{BASE}{what}", {}).status_code == 403
