"""The page an invitation's link opens, from the first click to the membership."""

from __future__ import annotations

import pytest
from django.core.cache import cache
from django.utils import timezone

from accounts.models import User
from league.clubs.models import Invitation, Member
from league.clubs.services.invitations import invite, revoke_invitation

PERSON = {"email": "Isolde@Example.org", "password1": "five quiet lanterns", "name": "Isolde"}


@pytest.fixture(autouse=True)
def fresh_limits():
    cache.clear()


@pytest.fixture
def link(club, organiser):
    return f"/join/{invite(club, by=organiser)[1]}/"


def test_the_link_explains_the_club_and_offers_both_ways(link, client):
    page = client.get(link).content.decode()
    assert "Join Weir Street Irregulars" in page
    assert f"{link}sign-up/" in page and "/account/login/" in page


def test_opening_the_link_changes_nothing(link, client):
    client.get(link)
    assert Invitation.objects.get().uses == 0


def test_sign_up_by_the_link_makes_an_account_and_a_member_at_once(link, client):
    client.get(link)
    response = client.post(f"{link}sign-up/", PERSON)
    assert response.url == "/clubs/weir-street/"
    member = Member.objects.get(user__email="isolde@example.org")
    assert (member.name, member.club.slug) == ("Isolde", "weir-street")
    assert client.get("/clubs/weir-street/members/").status_code == 200


def test_sign_up_is_closed_without_an_invitation(db, client):
    assert 'type="password"' not in client.get("/account/signup/").content.decode()
    client.post("/account/signup/", PERSON)
    assert not User.objects.exists()


def test_the_plain_sign_up_page_is_open_to_the_holder_of_a_link_and_leads_back_to_it(link, client):
    client.get(link)
    assert client.post("/account/signup/", PERSON).url == link


def test_the_plain_sign_up_page_closes_again_when_the_link_expires(link, client, monkeypatch):
    client.get(link)
    later = Invitation.objects.get().expires_at
    monkeypatch.setattr(timezone, "now", lambda: later)
    client.post("/account/signup/", PERSON)
    assert not User.objects.filter(email="isolde@example.org").exists()


def test_a_member_of_the_site_joins_with_one_button(link, client, stranger):
    client.force_login(stranger, backend="allauth.account.auth_backends.AuthenticationBackend")
    assert 'value="Isolde"' in client.get(link).content.decode()
    assert client.post(link, {"name": "Isolde"}).url == "/clubs/weir-street/"
    assert Member.objects.filter(user=stranger, club__slug="weir-street").exists()


def test_a_double_tap_on_the_button_is_one_membership(link, client, stranger):
    client.force_login(stranger, backend="allauth.account.auth_backends.AuthenticationBackend")
    assert [client.post(link, {"name": "Isolde"}).url for _ in range(2)] == ["/clubs/weir-street/"] * 2
    assert Invitation.objects.get().uses == 1


def test_pressing_the_button_signed_out_leads_to_sign_in_and_back(link, client):
    assert client.post(link, {"name": "Isolde"}).url.startswith("/account/login/?next=%2Fjoin%2F")


def test_a_missing_name_is_said_on_the_page(link, client, stranger):
    client.force_login(stranger, backend="allauth.account.auth_backends.AuthenticationBackend")
    response = client.post(link, {"name": ""})
    assert response.status_code == 422
    assert "Enter the name your club mates call you." in response.content.decode()


def test_an_unknown_link_is_a_page_that_says_what_to_do(db, client):
    response = client.get("/join/nothing/")
    assert response.status_code == 404
    assert "Ask an organiser" in response.content.decode()


def test_a_revoked_link_lets_nobody_sign_up(link, client, organiser):
    revoke_invitation(Invitation.objects.get(), by=organiser)
    assert client.get(link).status_code == 410
    assert client.post(f"{link}sign-up/", PERSON).status_code == 410
    assert not User.objects.filter(email="isolde@example.org").exists()


def test_the_page_of_a_guests_link_says_whose_games_come_along(club, organiser, guest, client):
    _, secret = invite(club, guest=guest, by=organiser)
    assert "You have played here as Gorran" in client.get(f"/join/{secret}/").content.decode()
