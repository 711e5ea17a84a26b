"""Three turns of a war by two factions and an umpire: one battle logged on a phone, one corrected, one reckoned."""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import expect

PASSWORD = "a pass phrase for tests"
MAKE_WAR = f"""
import json
from accounts.services import open_account
from league.clubs.services.clubs import found_club
from league.clubs.services.invitations import invite, join_by
from league.clubs.services.members import change_offices
from tests.campaigns.play import begin
def account(name):
    return open_account(email=name.lower() + "@example.org", name=name, password={PASSWORD!r})
club = found_club(account("Odalys"), name="Old Mill", slug="old-mill", member_name="Odalys")
organiser = club.members.get()
invitation, secret = invite(club, uses_allowed=3, by=organiser)
joined = {{name: join_by(secret, user=account(name), name=name) for name in ("Ulmar", "Brannoc", "Ceriden")}}
change_offices(joined["Ulmar"], is_organiser=False, is_umpire=True, is_quartermaster=False, by=organiser)
umpire = club.members.get(name="Ulmar")
played = begin(club, umpire=umpire, commons=joined["Brannoc"], wardens=joined["Ceriden"])
print("FACTS" + json.dumps({{"war": played.campaign.pk}}))
"""


@pytest.fixture(scope="module")
def war(server):
    printed = server.manage("shell", "--command", MAKE_WAR)
    line = next(line for line in printed.splitlines() if line.startswith("FACTS"))
    return f"/clubs/old-mill/campaigns/{json.loads(line.removeprefix('FACTS'))['war']}/"


@pytest.fixture
def signed_in(chromium, server):
    contexts = []

    def open_phone(name):
        context = chromium.new_context(
            base_url=server.url, locale="en-GB", viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True
        )
        contexts.append(context)
        context.set_default_timeout(8_000)
        page = context.new_page()
        page.goto("/account/login/")
        page.get_by_label("Email").fill(f"{name.lower()}@example.org")
        page.get_by_label("Password").fill(PASSWORD)
        page.get_by_role("main").get_by_role("button", name="Sign in").click()
        expect(page.get_by_role("heading", level=1)).to_be_visible()
        return page

    yield open_phone
    for context in contexts:
        context.close()


def order(page, war, **chosen):
    """Give a set of orders by the form; what is not named holds."""
    page.goto(f"{war}orders/")
    for force, way in chosen.items():
        page.locator(f"[name='do-{force}']").select_option(way)
    page.get_by_role("button", name="Give these orders").click()
    expect(page.get_by_text("The orders are given")).to_be_visible()


def close(umpire, war):
    umpire.goto(f"{war}desk/")
    umpire.get_by_role("link", name="Close the turn").click()
    umpire.get_by_role("button", name="Close the turn").click()
    expect(umpire.get_by_text("The turn is closed.")).to_be_visible()


def write_scores(page, first, second):
    page.locator("[name='sides.0.score']").fill(str(first))
    page.locator("[name='sides.1.score']").fill(str(second))


def holder_of_the_crossing(page, war):
    page.goto(war)
    row = page.locator("figure.map table tr", has=page.locator("th", has_text="Sedge Crossing")).first
    return row.locator("td[data-label='Held by']").text_content().strip()


def test_a_war_of_three_turns_keeps_its_own_books(signed_in, war, server):
    brannoc, ceriden, umpire = (signed_in(name) for name in ("Brannoc", "Ceriden", "Ulmar"))

    # Turn 1: they meet at the crossing, and the battle is logged on a phone.
    order(brannoc, war, pikes="dyke")
    order(ceriden, war, lancers="toll")
    umpire.goto(f"{war}desk/")
    umpire.get_by_role("button", name="Draw them all").click()
    brannoc.goto(war)
    brannoc.get_by_role("link", name="The game").first.click()
    expect(brannoc).to_have_url(re.compile(r"/games/\d+/"))
    brannoc.goto(re.search(r"/clubs/old-mill/games/\d+/", brannoc.url)[0] + "report/")
    write_scores(brannoc, 14, 6)
    brannoc.get_by_label(re.compile("Figures lost, pikes 1")).fill("3")
    brannoc.get_by_role("button", name="File the report").click()
    expect(brannoc).to_have_url(re.compile(r"/reports/\d+/"))
    report = re.search(r"/reports/\d+/", brannoc.url)[0]
    close(umpire, war)
    before = holder_of_the_crossing(umpire, war)
    assert before

    # Turn 2: quiet. Then the report of turn 1 turns out to have the sides mixed up.
    order(brannoc, war)
    order(ceriden, war)
    close(umpire, war)
    umpire.goto(f"/clubs/old-mill{report}correct/")
    write_scores(umpire, 6, 14)
    umpire.locator("[name='reason']").fill("The sides were mixed up.")
    umpire.locator("main form button.button").last.click()
    umpire.goto(f"{war}desk/")
    umpire.get_by_role("link", name=re.compile("would be otherwise")).click()
    expect(umpire.get_by_text("Who holds Sedge Crossing").first).to_be_visible()
    umpire.get_by_role("button", name="Reckon the war anew").click()
    expect(umpire.get_by_text("The war is reckoned anew.")).to_be_visible()
    after = holder_of_the_crossing(umpire, war)
    assert {before, after} == {"Commons of Arrel", "Wardens of Brune"}

    # Turn 3: the beaten try again, nobody can play it, and the umpire has it reckoned.
    order(brannoc, war, **({} if after.startswith("Commons") else {"pikes": "dyke"}))
    order(ceriden, war, **({} if after.startswith("Wardens") else {"lancers": "toll"}))
    umpire.goto(f"{war}desk/")
    umpire.get_by_role("link", name=re.compile("Reckon it")).click()
    expect(umpire.get_by_text("nine times in ten").first).to_be_visible()
    umpire.get_by_role("button", name="Accept, and draw the outcome").click()
    close(umpire, war)

    brannoc.goto(f"{war}turns/3/")
    expect(brannoc.get_by_text("is reckoned, not played").first).to_be_visible()
    assert "0 mismatches" in server.manage("recount")
