"""Tokens: what a program holds to act for a person."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone
from rest_framework.test import APIClient

from accounts.models import ApiToken
from accounts.queries import tokens_of
from accounts.services import TokenRefused, disable_person, issue_token, revoke_token
from tests import factories

ME = "/api/v1/me/"
TOKENS = "/api/v1/tokens/"


def program(secret, scheme="Bearer"):
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"{scheme} {secret}")
    return client


def test_a_token_speaks_for_its_person(person):
    _, secret = issue_token(person, name="script")
    assert program(secret).get(ME).json()["email"] == "isolde@example.org"


def test_a_secret_says_what_it_is_and_has_256_random_bits(person):
    _, secret = issue_token(person, name="script")
    assert secret.startswith("dh_") and len(secret) == len("dh_") + 43


def test_only_the_digest_of_the_secret_is_kept(person):
    token, secret = issue_token(person, name="script")
    assert secret not in str(ApiToken.objects.filter(pk=token.pk).values().get())


def test_a_token_is_good_for_a_year_unless_said_otherwise(person):
    token, _ = issue_token(person, name="script")
    assert token.expires_at - token.created_at == timedelta(days=365)


def test_everything_wrong_with_a_token_is_said_at_once(person):
    with pytest.raises(TokenRefused) as refusal:
        issue_token(person, name=" ", days=0)
    assert set(refusal.value.by_field()) == {"name", "days"}


def test_a_person_has_at_most_fifty_living_tokens(person):
    for number in range(50):
        issue_token(person, name=str(number))
    with pytest.raises(TokenRefused, match="Revoke one"):
        issue_token(person, name="one more")


def test_a_revoked_token_is_dead(person):
    token, secret = issue_token(person, name="script")
    revoke_token(token)
    assert program(secret).get(ME).status_code == 401


def test_an_expired_token_is_dead(person):
    token, secret = issue_token(person, name="script")
    ApiToken.objects.filter(pk=token.pk).update(expires_at=timezone.now())
    assert program(secret).get(ME).status_code == 401


def test_a_disabled_persons_token_is_dead_for_good(person):
    _, secret = issue_token(person, name="script")
    disable_person(person)
    assert program(secret).get(ME).status_code == 401
    person.is_active = True
    person.save()
    assert program(secret).get(ME).status_code == 401


@pytest.mark.parametrize("scheme", ["Token", "Basic", ""])
def test_a_secret_under_another_scheme_opens_nothing(person, scheme):
    _, secret = issue_token(person, name="script")
    assert program(secret, scheme).get(ME).status_code == 401


def test_a_secret_in_the_address_opens_nothing(person):
    _, secret = issue_token(person, name="script")
    assert APIClient().get(f"{ME}?token={secret}").status_code == 401


def test_a_made_up_secret_opens_nothing_and_says_how_to_ask(db):
    response = program("dh_nothing").get(ME)
    assert (response.status_code, response["WWW-Authenticate"]) == (401, "Bearer")


def test_a_reading_token_writes_nothing(club, organiser):
    _, secret = issue_token(organiser.user, name="reader")
    assert program(secret).post("/api/v1/clubs/weir-street/members/", {"name": "Gorran"}).status_code == 403


def test_a_writing_token_writes(club, organiser):
    _, secret = issue_token(organiser.user, name="writer", may_write=True)
    assert program(secret).post("/api/v1/clubs/weir-street/members/", {"name": "Gorran"}).status_code == 201


def test_revoking_twice_keeps_the_first_hour(person):
    token, _ = issue_token(person, name="script")
    first = revoke_token(token).revoked_at
    assert revoke_token(token).revoked_at == first


def test_the_hour_of_use_is_noted(person):
    token, secret = issue_token(person, name="script")
    program(secret).get(ME)
    token.refresh_from_db()
    assert token.used_at is not None


def test_the_list_says_which_tokens_live(person):
    now = timezone.now()
    issue_token(person, name="alive")
    revoke_token(issue_token(person, name="revoked")[0])
    ApiToken.objects.filter(pk=issue_token(person, name="expired")[0].pk).update(expires_at=now)
    assert [(each.name, each.state) for each in tokens_of(person, now)] == [
        ("expired", "expired"),
        ("revoked", "revoked"),
        ("alive", "alive"),
    ]


def test_a_browser_makes_a_token_and_reads_its_secret_once(person, sign_in, client):
    sign_in()
    client.post("/account/tokens/new/", {"name": "script", "days": "30", "may_write": "on"})
    assert "dh_" in client.get("/account/tokens/").content.decode()
    assert "dh_" not in client.get("/account/tokens/").content.decode()
    assert ApiToken.objects.get().may_write


def test_a_browser_revokes_a_token(person, sign_in, client):
    sign_in()
    token, secret = issue_token(person, name="script")
    assert client.get(f"/account/tokens/{token.pk}/revoke/").status_code == 200
    assert program(secret).get(ME).status_code == 200
    client.post(f"/account/tokens/{token.pk}/revoke/")
    assert program(secret).get(ME).status_code == 401


def test_a_token_without_name_is_refused_on_the_page(person, sign_in, client):
    sign_in()
    response = client.post("/account/tokens/new/", {"name": "", "days": "30"})
    assert response.status_code == 422
    assert "Say what the token is for." in response.content.decode()


def test_nobody_sees_or_revokes_anothers_token(person, sign_in, client):
    sign_in()
    foreign, secret = issue_token(factories.UserFactory(), name="not yours")
    assert "not yours" not in client.get("/account/tokens/").content.decode()
    assert client.post(f"/account/tokens/{foreign.pk}/revoke/").status_code == 404
    assert program(secret).get(ME).status_code == 200


def test_a_session_makes_a_token_over_the_api(member, call):
    made = call(member).post(TOKENS, {"name": "script"}).json()
    assert program(made["secret"]).get(ME).status_code == 200


def test_a_token_makes_no_tokens(person):
    _, secret = issue_token(person, name="script", may_write=True)
    assert program(secret).post(TOKENS, {"name": "child"}).status_code == 403
    assert ApiToken.objects.count() == 1


def test_the_api_lists_my_tokens_without_secrets(member, call):
    _, secret = issue_token(member.user, name="script")
    issue_token(factories.UserFactory(), name="not mine")
    answer = call(member).get(TOKENS)
    assert [row["name"] for row in answer.json()["results"]] == ["script"]
    assert secret not in answer.content.decode() and "digest" not in answer.content.decode()


def test_the_api_revokes_my_token_and_no_other(member, call):
    mine, secret = issue_token(member.user, name="script")
    foreign, _ = issue_token(factories.UserFactory(), name="not mine")
    assert call(member).delete(f"{TOKENS}{mine.pk}/").status_code == 204
    assert program(secret).get(ME).status_code == 401
    assert call(member).delete(f"{TOKENS}{foreign.pk}/").status_code == 404


def test_a_key_nobody_reads_is_refused(member, call):
    assert call(member).post(TOKENS, {"name": "script", "user": 1}).status_code == 400


@pytest.mark.parametrize("number", [1, 3])
def test_the_page_of_tokens_takes_the_same_queries_for_any_number(number, member, browse, django_assert_num_queries):
    for each in range(number):
        issue_token(member.user, name=str(each))
    browser = browse(member)
    with django_assert_num_queries(4):
        browser.get("/account/tokens/")


@pytest.mark.parametrize("number", [1, 3])
def test_the_list_of_tokens_takes_the_same_queries_for_any_number(number, member, call, django_assert_num_queries):
    for each in range(number):
        issue_token(member.user, name=str(each))
    with django_assert_num_queries(2):
        call(member).get(TOKENS)
