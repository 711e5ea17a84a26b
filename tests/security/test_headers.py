"""What every answer carries, whatever it is and whoever asks."""

from __future__ import annotations

import pytest
from django.test import Client

from tests.security.places import path_of, places

POLICY = {
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data:",
    "font-src 'self'",
    "connect-src 'self'",
    "form-action 'self'",
    "manifest-src 'self'",
    "worker-src 'self'",
    "base-uri 'none'",
    "object-src 'none'",
    "frame-ancestors 'none'",
}
SANDBOXED = {"photo", "api-photo", "holding-photo"}
OTHERS = ["/no/such/page/", "/api/v1/no/such/", "/api/", "/account/login/", "/account/password/reset/", "/healthz"]
KEPT_FOR_A_DAY = "private, max-age=86400"  # a picture never changes, and only its viewer's own browser keeps it


def policy_of(answer):
    return {each.strip() for each in answer["Content-Security-Policy"].split(";") if each.strip()}


def wanting(answer, name):
    expected = {
        "X-Content-Type-Options": "nosniff",
        "X-Frame-Options": "DENY",
        "Referrer-Policy": "same-origin",
        "Cross-Origin-Opener-Policy": "same-origin",
    }
    wrong = [header for header, value in expected.items() if answer.get(header) != value]
    policy = policy_of(answer)
    if policy != ({"sandbox", "default-src 'none'"} if name in SANDBOXED else POLICY):
        wrong.append("Content-Security-Policy")
    return wrong


@pytest.mark.parametrize("role", ["visitor", "stranger", "member", "organiser"])
def test_every_address_answers_with_the_same_strict_headers(role, world, cast, ask):
    lax = {}
    for address in places():
        answer, _ = ask(cast[role], path_of(address, world))
        # Kept out of the picture, one meets an ordinary answer.
        shown = address.name if answer.status_code == 200 else ""
        if wrong := wanting(answer, shown):
            lax[address.name, answer.status_code] = wrong
    assert lax == {}


@pytest.mark.parametrize("path", OTHERS)
def test_other_answers_are_as_strict(path, db, ask):
    answer, _ = ask(None, path)
    assert wanting(answer, "") == []


def test_a_stale_form_and_a_wrong_method_are_answered_as_strictly(db):
    strict = Client(enforce_csrf_checks=True)
    stale, wrong_method = strict.post("/account/login/", {}), strict.put("/healthz")
    assert stale.status_code == 403
    assert (wanting(stale, ""), wanting(wrong_method, "")) == ([], [])


def test_the_policy_names_no_way_around_itself(db, client):
    policy = client.get("/")["Content-Security-Policy"]
    assert "unsafe" not in policy and "*" not in policy and "http" not in policy


def test_no_page_carries_script_or_style_in_its_text(world, cast, ask):
    """The policy would stop it; that nothing is there to be stopped keeps the pages whole."""
    inline = []
    for address in places():
        answer, text = ask(cast["organiser"], path_of(address, world))
        if answer["Content-Type"].startswith("text/html") and any(
            each in text for each in (" style=", "<style", "javascript:", " onclick=", " onload=", " onchange=")
        ):
            inline.append(address.name)
    assert inline == []


@pytest.mark.parametrize("role", ["member", "organiser", "stranger"])
def test_what_a_signed_in_person_sees_is_stored_nowhere(role, world, cast, ask):
    kept = {
        address.name: answer.get("Cache-Control", "")
        for address in places()
        for answer, _ in [ask(cast[role], path_of(address, world))]
        if "no-store" not in answer.get("Cache-Control", "")
        and not (address.name in SANDBOXED and answer["Cache-Control"] == KEPT_FOR_A_DAY)
    }
    assert kept == {}


def test_what_a_program_with_a_token_reads_is_stored_nowhere(world, cast):
    from accounts.services import issue_token

    _, secret = issue_token(cast["member"].user, name="program")
    answer = Client(headers={"Authorization": f"Bearer {secret}"}).get("/api/v1/me/")
    assert (answer.status_code, answer["Cache-Control"]) == (200, "no-store")


def test_the_page_of_an_invitation_is_stored_nowhere(world, client):
    assert "no-store" in client.get(f"/join/{world.values['join', 'secret']}/")["Cache-Control"]


def test_a_public_page_is_told_apart_by_who_asks(world, client):
    assert "Cookie" in client.get("/clubs/weir-street/")["Vary"]


def test_no_other_site_is_let_in_by_cors(db):
    answer = Client(headers={"Origin": "https://elsewhere.example"}).get("/api/v1/")
    assert not [header for header in answer.headers if header.lower().startswith("access-control-")]
