from __future__ import annotations

import pytest


@pytest.fixture
def signed_in(person, sign_in, client):
    sign_in()
    return client


@pytest.mark.parametrize(
    "address",
    ["/account/name/", "/account/email/", "/account/password/change/", "/account/2fa/", "/account/tokens/"],
)
def test_the_account_page_leads_to_everything_about_the_account(signed_in, address):
    assert f'href="{address}"' in signed_in.get("/account/").content.decode()


@pytest.mark.parametrize("address", ["/account/", "/account/name/", "/account/tokens/", "/account/tokens/new/"])
def test_a_visitor_is_led_to_sign_in(db, client, address):
    assert client.get(address).url == f"/account/login/?next={address}"


@pytest.mark.parametrize("address", ["/account/email/", "/account/password/change/", "/account/reauthenticate/"])
def test_the_pages_behind_it_open(signed_in, address):
    assert signed_in.get(address, follow=True).status_code == 200


def test_a_person_changes_their_name(signed_in, person):
    signed_in.post("/account/name/", {"name": "Isolde of the Weir"})
    person.refresh_from_db()
    assert person.name == "Isolde of the Weir"


def test_a_person_without_name_reads_what_to_do(signed_in):
    response = signed_in.post("/account/name/", {"name": ""})
    assert response.status_code == 422
    assert "Enter a name." in response.content.decode()


def test_personal_pages_are_kept_nowhere(signed_in):
    assert "no-store" in signed_in.get("/account/tokens/")["Cache-Control"]
