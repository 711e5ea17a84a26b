"""A club evening from the first sign-in to the table, on a phone: the line everything else stands on."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import expect

PASSWORD = "a pass phrase for tests"
FORCE = """\
Captain Ott: leader, 2, seasoned, 50, pistols
Sickle Company: line, 10, veteran, 90, muskets
Scythe Company: line, 10, seasoned, 80, muskets
A line that nobody can read
"""

MAKE_CLUB = f"""
import json
from datetime import timedelta
from uuid import uuid4
from django.utils import timezone
from accounts.services import open_account
from league.clubs.services.clubs import found_club
from league.clubs.services.invitations import invite, join_by
from league.rulesets.queries import shipped_documents
from league.rulesets.services.rulesets import create_ruleset
from league.seasons.services.entrants import enter
from league.seasons.services.pairings import pair
from league.seasons.services.rounds import add_round
from league.seasons.services.seasons import create_season
def account(name):
    return open_account(email=name.lower() + "@example.org", name=name, password={PASSWORD!r})
club = found_club(account("Odalys"), name="Old Mill", slug="old-mill", member_name="Odalys")
organiser = club.members.get()
invitation, secret = invite(club, uses_allowed=2, by=organiser)
brannoc, ceriden = [join_by(secret, user=account(name), name=name) for name in ("Brannoc", "Ceriden")]
ruleset = create_ruleset(club, document=shipped_documents()["ferry_skirmish"], by=organiser)
rules = {{"scheme": {{"win_x2": 6, "draw_x2": 2, "loss_x2": 0}}, "tie_breaks": [{{"name": "score_difference"}}]}}
season = create_season(club, ruleset=ruleset, name="Spring", starts_on=timezone.localdate() - timedelta(days=7),
                       rules=rules, counts="confirmed", submission=uuid4(), by=organiser)
entrants = [enter(season, member_ids=[each.pk], by=organiser) for each in (brannoc, ceriden)]
pairing = pair(add_round(season, on=timezone.localdate(), by=organiser), entrant_ids=[each.pk for each in entrants],
               scenario="chance_meeting", submission=uuid4(), by=organiser)
print("FACTS" + json.dumps({{"season": season.pk, "game": pairing.game_id}}))
"""


@pytest.fixture(scope="module")
def facts(server):
    printed = server.manage("shell", "--command", MAKE_CLUB)
    line = next(line for line in printed.splitlines() if line.startswith("FACTS"))
    return json.loads(line.removeprefix("FACTS"))


@pytest.fixture
def signed_in(chromium, server):
    """A page on somebody's phone: `signed_in("Brannoc")`."""
    contexts = []

    def open_phone(name):
        context = chromium.new_context(
            base_url=server.url, locale="en-GB", viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True
        )
        contexts.append(context)
        context.set_default_timeout(8_000)
        page = context.new_page()
        page.goto("/")
        page.get_by_role("link", name="Sign in").first.click()
        page.get_by_label("Email").fill(f"{name.lower()}@example.org")
        page.get_by_label("Password").fill(PASSWORD)
        page.get_by_role("button", name="Sign in").click()
        expect(page.get_by_role("heading", level=1)).to_be_visible()
        return page

    yield open_phone
    for context in contexts:
        context.close()


def test_an_evening_from_the_pasted_roster_to_the_table(signed_in, facts, server):
    mine = signed_in("Brannoc")
    paste_a_roster(mine)
    write_the_report(mine, facts)
    throw_the_dice(mine)
    assert points_in_the_table(mine, facts) == {"Brannoc": "0", "Ceriden": "0"}

    theirs = signed_in("Ceriden")
    theirs.goto("/clubs/old-mill/")
    theirs.get_by_role("link", name="Read and confirm").click()
    theirs.get_by_role("button", name="Confirm").click()
    expect(theirs.get_by_text("confirmed").first).to_be_visible()

    assert points_in_the_table(theirs, facts) == {"Brannoc": "3", "Ceriden": "0"}
    mine.goto("/clubs/old-mill/rosters/")
    mine.get_by_role("link", name="The Reed Cutters").click()
    # Ten stood there and three fell. The table for veterans: 1 is lost for good, 2 misses one game, 3 to 6 are back.
    expect(mine.get_by_role("row", name="Sickle Company").first).to_contain_text("8")
    expect(mine.get_by_text("20/22")).to_be_visible()
    assert server.manage("recount").strip().endswith("0 mismatches")


def paste_a_roster(page):
    page.goto("/clubs/old-mill/rosters/")
    page.get_by_role("link", name="From a list or file").click()
    page.get_by_label("Name").fill("The Reed Cutters")
    page.locator("textarea[name=text]").fill(FORCE)
    page.get_by_role("button", name="Look at it").click()
    expect(page.get_by_text("A line that nobody can read").first).to_be_visible()
    page.locator("textarea[name=text]").fill(FORCE.replace("A line that nobody can read\n", ""))
    page.get_by_role("button", name="Look again").or_(page.get_by_role("button", name="Look at it")).click()
    page.get_by_role("button", name="Write this roster").click()
    expect(page.get_by_role("heading", name="The Reed Cutters")).to_be_visible()


def write_the_report(page, facts):
    page.goto("/clubs/old-mill/")
    page.get_by_role("link", name="Brannoc against Ceriden").first.click()
    page.goto(f"/clubs/old-mill/games/{facts['game']}/rosters/")
    page.get_by_label("Brannoc").select_option(label="The Reed Cutters")
    page.locator("main form").get_by_role("button").last.click()
    page.goto(f"/clubs/old-mill/games/{facts['game']}/report/")
    page.locator("[name='sides.0.score']").fill("14")
    page.locator("[name='sides.1.score']").fill("6")
    page.get_by_label("Figures lost, Sickle Company").fill("11")
    page.get_by_role("button", name="File the report").click()
    # More than stood there: refused, and what was typed is kept.
    expect(page.get_by_text("only 10 stood there").first).to_be_visible()
    expect(page.locator("[name='sides.0.score']")).to_have_value("14")
    page.get_by_label("Figures lost, Sickle Company").fill("3")
    page.get_by_role("button", name="File the report").click()
    expect(page.get_by_text("waits for the opponent").first).to_be_visible()


def throw_the_dice(page):
    page.locator("main").get_by_role("link", name="dice").first.click()
    page.get_by_label("Sickle Company").fill("1 2 5")
    page.locator("main form").first.get_by_role("button").click()
    expect(page.get_by_text("lost for good").first).to_be_visible()


def points_in_the_table(page, facts):
    page.goto(f"/clubs/old-mill/seasons/{facts['season']}/standings/")
    return {
        name: page.get_by_role("row", name=name).locator("td[data-label=Points]").inner_text().strip()
        for name in ("Brannoc", "Ceriden")
    }
