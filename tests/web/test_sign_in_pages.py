"""Every page of the sign-in package answers in our frame."""

from __future__ import annotations

import re

import allauth.urls
import pytest
from allauth.account.models import EmailAddress
from allauth.mfa.recovery_codes.internal.auth import RecoveryCodes
from allauth.mfa.totp.internal.auth import TOTP, generate_totp_secret
from django.core.cache import cache
from django.urls import URLResolver, reverse

SIGNED_OUT = {
    "account_login": [],
    "account_signup": [],
    "account_reset_password": [],
    "account_reset_password_done": [],
    "account_reset_password_from_key": ["1", "stale-key"],
    "account_reset_password_from_key_done": [],
    "account_email_verification_sent": [],
    "account_confirm_email": ["stale-key"],
    "account_inactive": [],
}
SIGNED_IN = {
    "account_logout": [],
    "account_email": [],
    "account_change_password": [],
    "account_reauthenticate": [],
    "mfa_index": [],
    "mfa_activate_totp": [],
}
WITH_SECOND_STEP = {
    "mfa_index": [],
    "mfa_deactivate_totp": [],
    "mfa_view_recovery_codes": [],
    "mfa_generate_recovery_codes": [],
    "mfa_reauthenticate": [],
}
# Looked at in tests of their own, below.
APART = {"account_set_password", "account_confirm_login_code", "mfa_authenticate", "mfa_download_recovery_codes"}
# Proving who one is by a code sent by mail is closed here; packages of before 65.22 have no such pages.
CLOSED = {"account_request_reauthentication_code", "account_confirm_reauthentication_code"}
PASSWORD = "a very long one"


def names(patterns):
    for pattern in patterns:
        if isinstance(pattern, URLResolver):
            yield from names(pattern.url_patterns)
        else:
            yield pattern.name


def in_our_frame(response):
    return response.status_code == 200 and "base.html" in {each.name for each in response.templates}


@pytest.fixture(autouse=True)
def no_earlier_attempts():
    """The limits on attempts count across tests as they do across visitors."""
    cache.clear()


@pytest.fixture
def confirmed(member):
    """A member whose address is confirmed, as the second step demands."""
    EmailAddress.objects.create(user=member.user, email=member.user.email, verified=True, primary=True)
    return member


@pytest.fixture
def fresh(client, confirmed):
    """Signed in, and the password given once more a moment ago, as the pages of the second step demand."""
    confirmed.user.set_password(PASSWORD)
    confirmed.user.save()
    client.post(reverse("account_login"), {"login": confirmed.user.email, "password": PASSWORD})
    client.post(reverse("account_reauthenticate"), {"password": PASSWORD})
    return client


@pytest.fixture
def careful(fresh, confirmed):
    """The same, and by now with a second step."""
    TOTP.activate(confirmed.user, generate_totp_secret())
    RecoveryCodes.activate(confirmed.user)
    return fresh


def test_no_page_of_the_package_is_forgotten():
    assert set(names(allauth.urls.urlpatterns)) - CLOSED == {*SIGNED_OUT, *SIGNED_IN, *WITH_SECOND_STEP, *APART}


@pytest.mark.parametrize("name", sorted(CLOSED & set(names(allauth.urls.urlpatterns))))
def test_closed_pages_of_the_package_open_to_nobody(fresh, name):
    assert fresh.get(reverse(name)).status_code == 403


@pytest.mark.parametrize("name", SIGNED_OUT)
def test_pages_before_signing_in(db, client, name):
    assert in_our_frame(client.get(reverse(name, args=SIGNED_OUT[name])))


@pytest.mark.parametrize("name", SIGNED_IN)
def test_pages_of_an_account(fresh, name):
    assert in_our_frame(fresh.get(reverse(name, args=SIGNED_IN[name])))


@pytest.mark.parametrize("name", WITH_SECOND_STEP)
def test_pages_of_an_account_with_a_second_step(careful, name):
    assert in_our_frame(careful.get(reverse(name, args=WITH_SECOND_STEP[name])))


def test_a_person_without_a_password_chooses_one(client, confirmed):
    confirmed.user.set_unusable_password()
    confirmed.user.save()
    client.force_login(confirmed.user, backend="allauth.account.auth_backends.AuthenticationBackend")
    assert in_our_frame(client.get(reverse("account_set_password")))


def test_the_second_step_asks_for_six_figures(careful, confirmed):
    careful.logout()
    response = careful.post(
        reverse("account_login"), {"login": confirmed.user.email, "password": PASSWORD}, follow=True
    )
    assert in_our_frame(response) and "six figures" in response.content.decode()


def test_the_secret_can_be_typed_as_well_as_scanned(fresh):
    page = fresh.get(reverse("mfa_activate_totp"))
    assert page.context["form"].secret in page.content.decode()


def test_recovery_codes_are_shown_as_a_list_without_scripts(careful):
    page = careful.get(reverse("mfa_view_recovery_codes")).content.decode()
    assert page.count("<li><code>") == 10


def test_the_codes_can_be_kept_as_a_text_file(careful):
    response = careful.get(reverse("mfa_download_recovery_codes"))
    assert response.status_code == 200 and response["Content-Type"].startswith("text/plain")


def test_signing_in_by_a_mailed_code_is_not_offered(db, client):
    assert client.get(reverse("account_confirm_login_code"))["Location"] == reverse("account_login")


def test_the_mailed_link_leads_to_choosing_a_password(client, confirmed, mailoutbox):
    client.post(reverse("account_reset_password"), {"email": confirmed.user.email})
    address = re.search(r"http://testserver(/\S+)", mailoutbox[0].body)[1]
    response = client.get(address, follow=True)
    assert in_our_frame(response) and 'name="password1"' in response.content.decode()


def test_a_closed_sign_up_says_how_to_get_in(db, client, settings):
    settings.SIGNUP_IS_OPEN = False
    assert "Ask an organiser" in client.get(reverse("account_signup")).content.decode()


def test_an_open_sign_up_asks_for_a_name(db, client, settings):
    settings.SIGNUP_IS_OPEN = True
    assert 'name="name"' in client.get(reverse("account_signup")).content.decode()


def test_a_wrong_password_is_answered_on_the_form(client, member):
    page = client.post(reverse("account_login"), {"login": member.user.email, "password": "quite another"})
    assert "error-summary" in page.content.decode()


def test_where_the_visitor_wanted_to_go_survives_signing_in(client, confirmed):
    confirmed.user.set_password(PASSWORD)
    confirmed.user.save()
    address = f"{reverse('account_login')}?next=/clubs/weir-street/members/"
    response = client.post(address, {"login": confirmed.user.email, "password": PASSWORD})
    assert response["Location"] == "/clubs/weir-street/members/"
