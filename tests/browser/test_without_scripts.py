"""The site without scripts: everything a script adds is a comfort, nothing is a need."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PHONE

PASSWORD = "a pass phrase for tests"
MAKE_CLUB = f"""
import json
from accounts.services import open_account
from league.clubs.services.clubs import found_club
from league.clubs.services.members import add_guest
from league.rulesets.queries import shipped_documents
from league.rulesets.services.rulesets import create_ruleset
user = open_account(email="odalys@example.org", name="Odalys", password={PASSWORD!r})
club = found_club(user, name="Old Mill", slug="old-mill", member_name="Odalys")
organiser = club.members.get()
create_ruleset(club, document=shipped_documents()["ferry_skirmish"], by=organiser)
print("FACTS" + json.dumps({{"guest": add_guest(club, name="Gorran", by=organiser).pk}}))
"""


@pytest.fixture(scope="module")
def phone_without_scripts(chromium, server):
    """A member's phone that runs no scripts, signed in."""
    printed = server.manage("shell", "--command", MAKE_CLUB)
    assert json.loads(printed[printed.index("FACTS") + 5 :])["guest"]
    context = chromium.new_context(base_url=server.url, locale="en-GB", java_script_enabled=False, **PHONE)
    page = context.new_page()
    page.goto("/account/login/")
    page.get_by_label("Email").fill("odalys@example.org")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("main").get_by_role("button", name="Sign in").click()
    yield page
    context.close()


def test_a_game_is_logged_in_four_taps_and_two_numbers(phone_without_scripts):
    page = phone_without_scripts
    page.goto("/clubs/old-mill/")
    page.get_by_role("link", name="Log a game").first.tap()
    page.get_by_label("Gorran").tap()
    page.get_by_label("My score").fill("12")
    page.get_by_label("Their score").fill("7")
    page.get_by_role("button", name="Save the result").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Odalys against Gorran, 12 – 7")


def test_a_form_that_is_not_complete_says_what_to_enter(phone_without_scripts):
    page = phone_without_scripts
    page.goto("/clubs/old-mill/log/")
    page.get_by_role("button", name="Save the result").tap()
    expect(page.get_by_role("alert")).to_contain_text("Enter your score.")
    expect(page.get_by_role("alert")).to_contain_text("Choose your opponent.")


def test_a_menu_opens(phone_without_scripts):
    page = phone_without_scripts
    page.goto("/clubs/old-mill/")
    page.locator("details.menu summary").tap()
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()
