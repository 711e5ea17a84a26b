"""Nobody makes themselves more than they are by sending more than was asked, and nobody writes by a token that reads."""

from __future__ import annotations

import json

import pytest
from django.test import Client

from accounts.services import issue_token
from league.clubs.models import Member
from tests.rights.addresses import RIGHTS
from tests.security.places import path_of, places

API_WRITES = [(address, method) for method in ("POST", "PUT", "PATCH") for address in places(method) if address.is_api]
DELETES = [(address, "DELETE") for address in places("DELETE")]
# Acts without a body read none; what is sent with them is not looked at.
WITHOUT_BODY = {
    "api-member-leave",
    "api-night-cancel",
    "api-ruleset-retire",
    "api-ruleset-bring-back",
    "api-roster-retire",
    "api-roster-bring-back",
    "api-game-start",
    "api-game-cancel",
    "api-report-confirm",
    "api-report-draw",
    "api-season-close",
    "api-season-draw-up",
    "api-entrant-readmit",
    "api-war-due",
    "api-draft-begin",
    "api-kind-retire",
    "api-kind-bring-back",
    "api-holding-retire",
    "api-holding-bring-back",
    "api-loan-agree",
    "api-loan-hand-over",
    "api-loan-remind",
    "api-promise-pack",
    "api-promise-unpack",
    "api-packing-remind",
}
IN_PARTS = {"api-game-photos", "api-holding-photo"}
WITH_BODY = [(address, method) for address, method in API_WRITES if address.name not in WITHOUT_BODY]
GRABBED = {"is_superuser": True, "is_active": True, "user": 1, "club": 1, "by": 1, "created_by": 1, "digest": "x"}
RAISED = {
    "is_organiser": "on",
    "is_umpire": "on",
    "club": "2",
    "owner": "1",
    "by": "1",
    "user": "1",
    "is_superuser": "on",
}


def named(probe):
    return f"{probe[1]} {probe[0].name}"


def sender(cast, address):
    """Somebody who may write there."""
    return next(who for role, who in cast.items() if role in RIGHTS[address.name][1])


@pytest.mark.parametrize("probe", WITH_BODY, ids=named)
def test_a_body_with_other_keys_is_refused_by_name(probe, world, cast, call):
    address, method = probe
    client = call(sender(cast, address))
    form = "multipart" if address.name in IN_PARTS else "json"
    answer = getattr(client, method.lower())(path_of(address, world), GRABBED, format=form)
    assert (answer.status_code, answer["Content-Type"]) == (400, "application/problem+json")
    unknown = {each["pointer"] for each in answer.json()["errors"] if each["code"] == "unknown"}
    assert unknown == {f"/{name}" for name in GRABBED}


def test_a_form_with_other_fields_raises_nobody(world, cast, browse):
    """Every form a plain member may send, and every one they may not."""
    browser = browse(cast["member"])
    browser.raise_request_exception = False
    for address in places("POST"):
        if not address.is_api and "leave" not in address.name and "remove" not in address.name:
            browser.post(path_of(address, world), RAISED)
    member = Member.objects.get(pk=cast["member"].pk)
    assert (member.is_organiser, member.is_umpire, member.club_id) == (False, False, world.club.pk)
    assert not member.user.is_superuser and not member.user.is_staff


@pytest.mark.parametrize("probe", API_WRITES + DELETES, ids=named)
def test_a_token_that_only_reads_writes_nowhere(probe, world, cast):
    address, method = probe
    _, secret = issue_token(sender(cast, address).user, name="reader")
    client = Client(headers={"Authorization": f"Bearer {secret}"})
    answer = getattr(client, method.lower())(path_of(address, world), "{}", content_type="application/json")
    assert (answer.status_code, answer.json()["detail"]) == (403, "This token may only read.")


@pytest.mark.parametrize("probe", API_WRITES + DELETES, ids=named)
def test_a_browsers_session_writes_over_the_api_only_with_its_secret_against_forgery(probe, world, cast):
    address, method = probe
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(sender(cast, address).user, backend="allauth.account.auth_backends.AuthenticationBackend")
    answer = getattr(strict, method.lower())(path_of(address, world), "{}", content_type="application/json")
    assert answer.status_code == 403 and "CSRF" in answer.json()["detail"]


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", "application/xml"])
def test_a_form_of_another_site_cannot_spell_a_body_of_the_api(kind, world, cast, browse):
    """Those are the kinds a browser sends across sites without asking first."""
    answer = browse(cast["organiser"]).post(
        "/api/v1/clubs/weir-street/members/", '{"name": "Gorran"}', content_type=kind
    )
    assert (answer.status_code, answer["Content-Type"]) == (415, "application/problem+json")
    assert not Member.objects.filter(name="Gorran").exists()


GUESTS = "/api/v1/clubs/weir-street/members/"
UNFIT = {
    "NUL": rb'{"name": "Gor\u0000ran"}',
    "half a character": rb'{"name": "Gor\ud800ran"}',
    "half a character as a key": rb'{"name": "Gorran", "\udfff": 1}',
    "not JSON": b'{"name": ',
    "not UTF-8": b'{"name": "\xff"}',
    "NaN": b'{"name": NaN}',
    "a number for text": b'{"name": 7}',
    "yes for text": b'{"name": true}',
    "a list": b'["name"]',
    "a bare word": b'"name"',
    "nothing": b"",
    "too deep": b'{"name": ' + b"[" * 2000 + b"]" * 2000 + b"}",
    "a little too deep": b'{"name": ' + b"[" * 90 + b"]" * 90 + b"}",
    "a number without end": b'{"name": ' + b"9" * 5000 + b"}",
}


@pytest.mark.parametrize("body", UNFIT.values(), ids=UNFIT)
def test_an_unfit_body_is_refused_and_breaks_nothing(body, club, organiser, browse):
    browser = browse(organiser)
    browser.raise_request_exception = False
    answer = browser.post(GUESTS, body, content_type="application/json")
    assert (answer.status_code, answer["Content-Type"]) == (400, "application/problem+json")
    assert Member.objects.count() == 1


def test_a_body_of_more_than_a_million_bytes_is_refused_unread(club, organiser, browse):
    body = json.dumps({"name": "G" * 1_100_000})
    answer = browse(organiser).post(GUESTS, body, content_type="application/json")
    assert (answer.status_code, answer.json()["status"]) == (413, 413)


@pytest.mark.parametrize("number", ["0", "-1", "9223372036854775808", "1e3", "x", "٣"])
def test_a_number_nobody_has_leads_nowhere(number, club, member, browse):
    browser = browse(member)
    browser.raise_request_exception = False
    answer = browser.get(f"/api/v1/clubs/weir-street/games/{number}/")
    assert (answer.status_code, answer["Content-Type"]) == (404, "application/problem+json")


@pytest.mark.parametrize(
    "query",
    [
        "mine=",
        "mine=perhaps",
        "night=",
        "night=x",
        "colour=red",
        "page=0",
        "page=x",
        "page_size=201",
        "page_size=",
        "state=won",
        "mine=true&mine=false",
        "night=99999999999999999999",
        "page=%D9%A3",
    ],
)
def test_a_query_nobody_understands_is_refused(query, club, member, browse):
    answer = browse(member).get(f"/api/v1/clubs/weir-street/games/?{query}")
    assert (answer.status_code, answer["Content-Type"]) == (400, "application/problem+json")
    assert answer.json()["errors"][0]["pointer"] == "/" + query.partition("=")[0]


@pytest.mark.parametrize("path", ["/api/", "/api/v1/nothing/", "/api/v2/", "/api/v1/clubs/weir-street/rosters/x/"])
@pytest.mark.parametrize("method", ["get", "post", "delete", "options"])
def test_an_address_of_the_api_that_leads_nowhere_says_so_as_a_problem(path, method, db):
    answer = getattr(Client(enforce_csrf_checks=True), method)(path)
    assert (answer.status_code, answer["Content-Type"]) == (404, "application/problem+json")


@pytest.mark.parametrize("method", ["put", "patch", "delete", "trace"])
def test_a_method_an_address_does_not_know_is_told_as_a_problem(method, club, member, browse):
    answer = getattr(browse(member), method)("/api/v1/clubs/weir-street/games/")
    assert (answer.status_code, answer["Content-Type"]) == (405, "application/problem+json")
    assert set(answer["Allow"].split(", ")) == {"GET", "POST", "HEAD", "OPTIONS"}


def test_an_api_that_breaks_says_so_as_a_problem_and_nothing_of_its_inside(member, browse, monkeypatch):
    def broken(*_):
        raise RuntimeError("the inside")

    monkeypatch.setattr("league.clubs.endpoints.clubs.clubs_of", broken)
    browser = browse(member)
    browser.raise_request_exception = False
    answer = browser.get("/api/v1/me/")
    assert (answer.status_code, answer["Content-Type"]) == (500, "application/problem+json")
    assert "inside" not in answer.content.decode()
