"""A public site: what changes once host names are given. Asked of a fresh process, because settings are read at start."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PROBE = """
import json, django
django.setup()
from django.conf import settings
from django.core.management import call_command
call_command("migrate", verbosity=0)
from django.test import Client
from accounts.services import open_account
open_account(email="odalys@club.example", name="Odalys", password="five quiet lanterns")
client = Client(SERVER_NAME="club.example", raise_request_exception=False)
plain = client.get("/account/login/")
page = client.get("/account/login/", secure=True)
client.post("/account/login/", {"login": "odalys@club.example", "password": "five quiet lanterns"}, secure=True)
cookies = {
    name: {key: str(morsel[key]) for key in ("path", "domain", "secure", "httponly", "samesite")}
    for name, morsel in client.cookies.items()
}
elsewhere = Client(SERVER_NAME="elsewhere.example", raise_request_exception=False)
proxied = Client(SERVER_NAME="club.example", headers={"X-Forwarded-Proto": "https"})
print(json.dumps({
    "plain": [plain.status_code, plain.headers.get("Location", "")],
    "hsts": page.headers.get("Strict-Transport-Security", ""),
    "status": page.status_code,
    "cookies": cookies,
    "elsewhere": elsewhere.get("/", secure=True).status_code,
    "elsewhere_api": elsewhere.get("/api/v1/", secure=True).headers["Content-Type"],
    "claimed": proxied.get("/account/login/").status_code,
    "debug": settings.DEBUG,
    "proxies": getattr(settings, "ALLAUTH_TRUSTED_PROXY_COUNT", 0),
    "secret_mode": oct((settings.DATA_DIR / "secret").stat().st_mode & 0o777),
}))
"""


def run(*command, data, **changes):
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("DRUMHEAD_", "DATABASE_URL"))}
    environment = {
        **kept,
        "DJANGO_SETTINGS_MODULE": "league.settings",
        "DRUMHEAD_DATA": str(data),
        "DRUMHEAD_HOSTS": "club.example",
        **changes,
    }
    return subprocess.run(
        [sys.executable, *command], cwd=ROOT, env=environment, capture_output=True, text=True, check=False, timeout=120
    )


def asked(data, **changes):
    answer = run("-c", PROBE, data=data, **changes)
    assert answer.returncode == 0, answer.stderr
    return json.loads(answer.stdout.splitlines()[-1])


@pytest.fixture(scope="module")
def public(tmp_path_factory):
    return asked(tmp_path_factory.mktemp("public"))


@pytest.fixture(scope="module")
def behind_proxy(tmp_path_factory):
    return asked(tmp_path_factory.mktemp("proxied"), DRUMHEAD_PROXY="1")


def test_plain_http_is_led_to_https(public):
    assert public["plain"] == [301, "https://club.example/account/login/"]


def test_browsers_are_told_to_stay_with_https_for_a_year(public):
    assert public["hsts"] == "max-age=31536000; includeSubDomains; preload"


def test_the_cookies_are_bound_to_the_host_itself(public):
    """The prefix __Host- is kept by browsers only with Secure, the path "/" and no domain (RFC 6265bis)."""
    assert set(public["cookies"]) == {"__Host-session", "__Host-csrf"}
    assert {(each["path"], each["domain"], each["secure"]) for each in public["cookies"].values()} == {
        ("/", "", "True")
    }


def test_no_script_reads_a_cookie_and_no_other_site_sends_one_along(public):
    assert {(each["httponly"], each["samesite"]) for each in public["cookies"].values()} == {("True", "Lax")}


def test_another_host_than_the_sites_own_is_refused(public):
    assert (public["elsewhere"], public["elsewhere_api"]) == (400, "application/problem+json")


def test_without_a_proxy_nobody_claims_to_have_come_by_https(public):
    assert (public["claimed"], public["proxies"]) == (301, 0)


def test_behind_a_proxy_its_word_is_taken(behind_proxy):
    assert (behind_proxy["claimed"], behind_proxy["proxies"]) == (200, 1)


def test_the_signing_secret_is_readable_by_its_owner_alone(public):
    assert (public["secret_mode"], public["debug"]) == ("0o600", False)


def test_the_framework_finds_nothing_to_warn_of(tmp_path):
    answer = run("manage.py", "check", "--deploy", "--fail-level", "WARNING", data=tmp_path)
    assert answer.returncode == 0, answer.stderr


def test_a_site_at_home_does_not_ask_for_https(tmp_path):
    kept = asked(tmp_path, DRUMHEAD_HTTPS="0")
    assert kept["plain"] == [200, ""] and set(kept["cookies"]) == {"session", "csrf"}
