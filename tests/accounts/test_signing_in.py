"""Signing in by e-mail, out again, and back in when the password is forgotten."""

from __future__ import annotations

import re

import pytest

from accounts.models import User
from accounts.services import admit_person, disable_person

PASSWORD = "five quiet lanterns"
FAILURES_ALLOWED = 5  # allauth's own limit: 5 failed sign-ins in 300 s for one address


def is_signed_in(client):
    return client.get("/account/").status_code == 200


def test_a_person_signs_in_by_e_mail_and_password(person, sign_in, client):
    assert sign_in().url == "/"
    assert is_signed_in(client)


def test_capitals_in_the_address_make_no_difference(person, sign_in):
    assert sign_in(email="Isolde@Example.ORG").url == "/"


def test_a_wrong_password_and_an_unknown_address_get_the_same_words(person, sign_in):
    wrong, unknown = sign_in(password="wrong"), sign_in(email="nobody@example.org")
    words = [re.findall(r"<li>(.*?)</li>", each.content.decode()) for each in (wrong, unknown)]
    assert wrong.status_code == unknown.status_code == 200
    assert words[0] == words[1]
    assert any("not correct" in each for each in words[0])


def test_a_person_returns_to_the_page_they_came_for(person, sign_in):
    assert sign_in(next="/account/tokens/").url == "/account/tokens/"


@pytest.mark.parametrize("elsewhere", ["https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)"])
def test_nobody_is_led_to_another_site(person, sign_in, elsewhere):
    assert sign_in(next=elsewhere).url == "/"


def test_the_session_gets_a_new_name_at_sign_in(person, sign_in, client):
    client.get("/account/login/")
    session = client.session
    session["before"] = True
    session.save()
    client.cookies["session"] = before = session.session_key
    sign_in()
    assert client.cookies["session"].value != before


def test_signing_out_ends_the_session_on_the_server(person, sign_in, client):
    sign_in()
    cookie = client.cookies["session"].value
    client.post("/account/logout/")
    client.cookies["session"] = cookie
    assert not is_signed_in(client)


def test_opening_the_sign_out_page_signs_nobody_out(person, sign_in, client):
    sign_in()
    client.get("/account/logout/")
    assert is_signed_in(client)


def test_after_five_failures_even_the_right_password_must_wait(person, sign_in, client):
    for _ in range(FAILURES_ALLOWED):
        sign_in(password="wrong")
    response = sign_in()
    assert "Too many failed login attempts" in response.content.decode()
    assert not is_signed_in(client)


def test_failures_at_one_address_do_not_lock_out_another_person(person, sign_in, client):
    User.objects.create_user("brannoc@example.org", PASSWORD, name="Brannoc")
    for _ in range(FAILURES_ALLOWED):
        sign_in(email="brannoc@example.org", password="wrong")
    assert sign_in().url == "/"


def test_a_forgotten_password_is_replaced_by_the_link_in_the_mail(person, sign_in, client, mailoutbox):
    client.post("/account/password/reset/", {"email": "isolde@example.org"})
    link = re.search(r"http://testserver(/\S+)", mailoutbox[0].body)[1]
    form = client.get(link, follow=True).redirect_chain[-1][0]
    client.post(form, {"password1": "six quiet lanterns", "password2": "six quiet lanterns"})
    assert sign_in(password="six quiet lanterns").url == "/"


def test_the_link_of_a_reset_works_once(person, client, mailoutbox):
    client.post("/account/password/reset/", {"email": "isolde@example.org"})
    link = re.search(r"http://testserver(/\S+)", mailoutbox[0].body)[1]
    form = client.get(link, follow=True).redirect_chain[-1][0]
    client.post(form, {"password1": "six quiet lanterns", "password2": "six quiet lanterns"})
    client.post("/account/logout/")
    assert client.get(link).status_code == 200
    assert 'type="password"' not in client.get(link).content.decode()


def test_asking_for_a_reset_tells_nobody_who_has_an_account(person, client):
    known = client.post("/account/password/reset/", {"email": "isolde@example.org"})
    unknown = client.post("/account/password/reset/", {"email": "nobody@example.org"})
    assert known.url == unknown.url == "/account/password/reset/done/"


@pytest.mark.parametrize("password", ["short", "password1234", "isolde@example.org"])
def test_a_poor_password_is_refused(person, sign_in, client, password):
    sign_in()
    form = {"oldpassword": PASSWORD, "password1": password, "password2": password}
    client.post("/account/password/change/", form)
    person.refresh_from_db()
    assert person.check_password(PASSWORD)


def test_a_changed_password_ends_the_sessions_on_other_devices(person, sign_in, client):
    sign_in()
    other = type(client)()
    other.post("/account/login/", {"login": "isolde@example.org", "password": PASSWORD})
    form = {"oldpassword": PASSWORD, "password1": "six quiet lanterns", "password2": "six quiet lanterns"}
    client.post("/account/password/change/", form)
    assert is_signed_in(client) and not is_signed_in(other)


def test_a_disabled_person_is_signed_out_everywhere_and_stays_out(person, sign_in, client):
    sign_in()
    disable_person(person)
    assert not is_signed_in(client)
    sign_in()
    assert not is_signed_in(client)


def test_a_person_let_in_again_does_not_find_the_old_session_alive(person, sign_in, client):
    sign_in()
    disable_person(person)
    admit_person(person)
    assert not is_signed_in(client)


def test_a_person_let_in_again_chooses_a_new_password_by_mail(person, sign_in, client, mailoutbox):
    disable_person(person)
    admit_person(person)
    client.post("/account/password/reset/", {"email": "isolde@example.org"})
    link = re.search(r"http://testserver(/\S+)", mailoutbox[0].body)[1]
    form = client.get(link, follow=True).redirect_chain[-1][0]
    client.post(form, {"password1": "six quiet lanterns", "password2": "six quiet lanterns"})
    assert sign_in(password="six quiet lanterns").url == "/"


def test_a_disabled_person_gets_no_link_to_a_new_password(person, client, mailoutbox):
    disable_person(person)
    client.post("/account/password/reset/", {"email": "isolde@example.org"})
    assert not any("/password/reset/key/" in mail.body for mail in mailoutbox)
