"""Opening an account without a club in sight; with an invitation it is tested where the invitations are."""

from __future__ import annotations

import pytest

from accounts.models import User

FORM = {"email": "Isolde@Example.org", "password1": "five quiet lanterns", "name": "Isolde"}


def test_a_closed_site_opens_no_account(db, client):
    client.post("/account/signup/", FORM)
    assert not User.objects.exists()


def test_an_open_site_opens_an_account_and_signs_in(db, client, settings):
    settings.SIGNUP_IS_OPEN = True
    assert client.post("/account/signup/", FORM).url == "/"
    assert client.get("/account/").status_code == 200


def test_the_name_is_kept_as_typed_and_the_address_in_small_letters(db, client, settings):
    settings.SIGNUP_IS_OPEN = True
    client.post("/account/signup/", FORM)
    assert User.objects.values_list("name", "email").get() == ("Isolde", "isolde@example.org")


def test_one_address_opens_one_account_however_it_is_typed(person, client, settings):
    settings.SIGNUP_IS_OPEN = True
    client.post("/account/signup/", FORM)
    assert User.objects.count() == 1


@pytest.mark.parametrize("missing", ["email", "password1", "name"])
def test_an_account_needs_address_password_and_name(db, client, settings, missing):
    settings.SIGNUP_IS_OPEN = True
    client.post("/account/signup/", {key: value for key, value in FORM.items() if key != missing})
    assert not User.objects.exists()


def test_a_forged_invitation_in_the_form_opens_nothing(db, client):
    client.post("/account/signup/?invited=1", {**FORM, "invited": "/join/x/"})
    assert not User.objects.exists()
