"""Rulesets over the API."""

from __future__ import annotations

import pytest

from league.rulesets.queries import current_edition
from tests.factories import EditionFactory


@pytest.fixture
def address(club):
    return f"/api/v1/clubs/{club.slug}/rulesets/"


def test_a_ruleset_is_read_with_its_document(call, member, address, ruleset, document):
    answer = call(member).get(f"{address}{ruleset.pk}/")
    assert answer.status_code == 200
    assert (answer.data["edition"], answer.data["document"]["name"]) == (1, document["name"])


def test_a_ruleset_is_made_from_a_document_once(call, organiser, address, document):
    first = call(organiser).post(address, {"document": document})
    second = call(organiser).post(address, {"document": document})
    assert first.status_code == second.status_code == 201
    assert first.data["id"] == second.data["id"]


def test_a_bad_document_answers_with_every_place_as_a_pointer(call, organiser, address, document):
    document["unit_classes"][2]["key"] = "UPPER"
    document["limits"][0]["most"] = -1
    answer = call(organiser).post(address, {"document": document})
    assert answer.status_code == 422
    assert answer["Content-Type"] == "application/problem+json"
    pointers = {each["pointer"] for each in answer.data["errors"]}
    assert {"/document/unit_classes/2/key", "/document/limits/0/most"} <= pointers


def test_the_next_edition_needs_the_number_of_the_current_one(call, organiser, address, ruleset, document):
    body = {"document": {**document, "summary": "Changed."}, "number": 1, "note": "New words"}
    assert call(organiser).put(f"{address}{ruleset.pk}/", body).data["edition"] == 2
    stale = {"document": {**document, "summary": "Changed again."}, "number": 1}
    assert call(organiser).put(f"{address}{ruleset.pk}/", stale).status_code == 409
    assert current_edition(ruleset).number == 2


def test_a_key_nobody_knows_is_refused(call, organiser, address, document):
    assert call(organiser).post(address, {"document": document, "name": "x"}).status_code == 400


def test_editions_are_listed_and_read(call, member, address, ruleset):
    assert [each["number"] for each in call(member).get(f"{address}{ruleset.pk}/editions/").data["results"]] == [1]
    assert "document" in call(member).get(f"{address}{ruleset.pk}/editions/1/").data


def test_retiring_and_bringing_back(call, umpire, address, ruleset):
    assert call(umpire).post(f"{address}{ruleset.pk}/retire/").data["retired_at"]
    assert call(umpire).get(address, {"is_retired": "true"}).data["count"] == 1
    assert call(umpire).post(f"{address}{ruleset.pk}/bring-back/").data["retired_at"] is None


@pytest.mark.parametrize(
    ("who", "reads", "writes"),
    [("organiser", 200, 201), ("umpire", 200, 201), ("member", 200, 403), ("outsider", 404, 404)],
)
def test_who_reads_and_who_writes(call, request, address, document, who, reads, writes):
    client = call(request.getfixturevalue(who))
    assert client.get(address).status_code == reads
    assert client.post(address, {"document": document}).status_code == writes


def test_signed_out_is_answered_401(call, address, ruleset):
    assert call(None).get(address).status_code == 401


def test_another_clubs_ruleset_is_not_found(call, outsider, other_club, ruleset):
    assert call(outsider).get(f"/api/v1/clubs/{other_club.slug}/rulesets/{ruleset.pk}/").status_code == 404


@pytest.mark.parametrize("count", [1, 3])
def test_the_list_costs_the_same_queries_whatever_its_length(
    call, member, club, address, count, django_assert_num_queries
):
    for _ in range(count):
        EditionFactory(ruleset__club=club)
    client = call(member)
    with django_assert_num_queries(4):
        answer = client.get(address)
    assert answer.data["count"] == count
