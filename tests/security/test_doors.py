"""Signing in and up: what strangers learn, where they are led, how often they may try."""

from __future__ import annotations

import re

import pytest
from django.core.cache import cache
from django.test import Client

from accounts.services import open_account
from league.clubs.services.invitations import invite

PASSWORD = "five quiet lanterns"
ELSEWHERE = [
    "https://elsewhere.example/",
    "//elsewhere.example/",
    "///elsewhere.example",
    "/\\elsewhere.example",
    "\\\\elsewhere.example",
    "https:elsewhere.example",
    "http:///elsewhere.example",
    "javascript:alert(1)",
    "data:text/html,x",
    "https://testserver@elsewhere.example/",
    "https://testserver.elsewhere.example/",
    "/%0d%0aLocation:%20https://elsewhere.example/",
]


@pytest.fixture(autouse=True)
def fresh_limits():
    cache.clear()


@pytest.fixture
def account(db):
    return open_account(email="isolde@example.org", name="Isolde", password=PASSWORD)


def words_of(answer):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>|value=\"[^\"]*\"", "", answer.content.decode()))


@pytest.mark.parametrize("address", ["/account/login/", "/account/logout/"])
@pytest.mark.parametrize("elsewhere", ELSEWHERE)
def test_no_link_to_this_site_leads_on_to_another(address, elsewhere, account, client):
    if address == "/account/logout/":
        client.force_login(account, backend="allauth.account.auth_backends.AuthenticationBackend")
    answer = client.post(address, {"login": account.email, "password": PASSWORD, "next": elsewhere})
    assert answer.status_code == 302
    assert re.fullmatch(r"/(?![/\\]).*", answer["Location"]) and "\n" not in answer["Location"]


def test_a_reset_is_answered_in_the_same_words_for_an_address_nobody_has(account, client):
    known, unknown = (
        client.post("/account/password/reset/", {"email": email}, follow=True)
        for email in (account.email, "nobody@example.org")
    )
    assert words_of(known) == words_of(unknown)


def test_a_reset_for_an_address_nobody_has_makes_no_account_and_names_none(account, client, mailoutbox):
    client.post("/account/password/reset/", {"email": "nobody@example.org"})
    assert [mail.to for mail in mailoutbox] in ([], [["nobody@example.org"]])
    assert not any("isolde" in mail.body.lower() for mail in mailoutbox)


def test_the_link_in_a_mail_leads_to_the_sites_own_host(account, mailoutbox):
    """A forged Host header is refused before any mail is written."""
    answer = Client(headers={"Host": "elsewhere.example"}).post("/account/password/reset/", {"email": account.email})
    assert (answer.status_code, mailoutbox) == (400, [])


def test_a_host_claimed_for_a_proxy_is_not_believed(account, mailoutbox):
    client = Client(headers={"X-Forwarded-Host": "elsewhere.example"})
    client.post("/account/password/reset/", {"email": account.email})
    assert "elsewhere" not in mailoutbox[0].body


def test_a_stranger_without_an_invitation_learns_nothing_by_signing_up(account, client):
    answers = [
        client.post("/account/signup/", {"email": email, "password1": PASSWORD, "name": "N"})
        for email in (account.email, "nobody@example.org")
    ]
    assert words_of(answers[0]) == words_of(answers[1])


def test_claiming_other_addresses_gives_no_more_tries(account):
    """Without a trusted proxy the header is a visitor's own invention."""
    for number in range(12):
        visitor = Client(headers={"X-Forwarded-For": f"198.51.100.{number}"})
        visitor.post("/account/login/", {"login": f"nobody{number}@example.org", "password": "wrong"})
    last = Client(headers={"X-Forwarded-For": "198.51.100.99"})
    last.post("/account/login/", {"login": account.email, "password": PASSWORD})
    assert last.get("/account/").status_code == 302


def test_a_token_is_no_key_to_the_pages(member, client):
    from accounts.services import issue_token

    _, secret = issue_token(member.user, name="program", may_write=True)
    assert client.get("/account/", headers={"Authorization": f"Bearer {secret}"}).status_code == 302


@pytest.mark.parametrize(
    "header", ["Bearer", "Bearer ", "Bearer  x y", "Bearer \xff\xfe", "bearer dh_", "dh_x", "Basic eDp5"]
)
def test_a_malformed_token_opens_nothing_and_breaks_nothing(header, db):
    answer = Client(raise_request_exception=False, headers={"Authorization": header}).get("/api/v1/me/")
    assert (answer.status_code, answer["Content-Type"]) == (401, "application/problem+json")


def test_a_wrong_token_is_not_made_good_by_a_session_beside_it(member, browse):
    answer = browse(member).get("/api/v1/me/", headers={"Authorization": "Bearer dh_wrong"})
    assert answer.status_code == 401


def test_an_invited_stranger_who_names_anothers_address_gets_no_account_of_it(account, club, organiser, client):
    _, secret = invite(club, by=organiser)
    client.post(
        f"/join/{secret}/sign-up/", {"email": account.email, "password1": "seven loud lanterns", "name": "Mallory"}
    )
    account.refresh_from_db()
    assert account.check_password(PASSWORD) and not account.memberships.exists()
