"""The second step at sign-in: a code by RFC 6238 (time-based one-time passwords)."""

from __future__ import annotations

import base64
import hashlib
import hmac
import re
import struct
import time

import pytest
from allauth.account.models import EmailAddress

PASSWORD = "five quiet lanterns"


def code_of(secret, at):
    """RFC 6238 section 4 over RFC 4226 section 5.3: HMAC-SHA-1 of the 30-second step, cut to six digits."""
    step = struct.pack(">Q", int(at) // 30)
    digest = hmac.new(base64.b32decode(secret), step, hashlib.sha1).digest()
    start = digest[-1] & 0x0F
    number = struct.unpack(">I", digest[start : start + 4])[0] & 0x7FFFFFFF
    return f"{number % 1_000_000:06}"


def test_our_code_is_the_one_of_the_standard():
    """RFC 6238 appendix B: at 59 s the key "12345678901234567890" gives 94287082; six digits are its last six."""
    assert code_of(base64.b32encode(b"12345678901234567890"), 59) == "287082"


@pytest.fixture
def with_second_step(person, sign_in, client, settings):
    """Sign in, set the second step up as a person does, sign out; gives the secret."""
    settings.MFA_TOTP_TOLERANCE = 1  # a test that runs across the half minute is still in time
    EmailAddress.objects.create(user=person, email=person.email, verified=True, primary=True)
    sign_in()
    client.post("/account/reauthenticate/", {"password": PASSWORD})
    page = client.get("/account/2fa/totp/activate/").content.decode()
    secret = re.search(r"\b[A-Z2-7]{32}\b", page)[0]
    client.post("/account/2fa/totp/activate/", {"code": code_of(secret, time.time())})
    client.post("/account/logout/")
    return secret


def test_the_page_of_the_second_step_is_there_for_who_is_signed_in(person, sign_in, client):
    sign_in()
    assert client.get("/account/2fa/").status_code == 200


def test_setting_the_second_step_up_asks_for_the_password_again(person, sign_in, client):
    sign_in()
    assert client.get("/account/2fa/totp/activate/").url.startswith("/account/reauthenticate/")


def test_the_pages_of_the_second_step_are_closed_to_others(db, client):
    assert client.get("/account/2fa/").url.startswith("/account/login/")


def test_with_a_second_step_the_password_alone_is_not_enough(with_second_step, sign_in, client):
    assert sign_in().url.startswith("/account/2fa/authenticate/")
    assert client.get("/account/").status_code == 302


def test_a_wrong_code_lets_nobody_in(with_second_step, sign_in, client):
    sign_in()
    right = code_of(with_second_step, time.time())
    client.post("/account/2fa/authenticate/", {"code": f"{(int(right) + 1) % 1_000_000:06}"})
    assert client.get("/account/").status_code == 302


def test_the_right_code_lets_the_person_in(with_second_step, sign_in, client):
    sign_in()
    client.post("/account/2fa/authenticate/", {"code": code_of(with_second_step, time.time())})
    assert client.get("/account/").status_code == 200


def test_a_code_is_good_once(with_second_step, sign_in, client):
    """RFC 6238 section 5.2: the verifier must not accept the second attempt of a code."""
    code = code_of(with_second_step, time.time())
    for expected in (200, 302):
        sign_in()
        client.post("/account/2fa/authenticate/", {"code": code})
        assert client.get("/account/").status_code == expected
        client.post("/account/logout/")
