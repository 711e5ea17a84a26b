"""A night short of something, healed from a phone: the line the stores stand on."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import expect

PASSWORD = "a pass phrase for tests"
MAKE_CLUB = f"""
import json
from datetime import time, timedelta
from uuid import uuid4
from django.utils import timezone
from accounts.services import open_account
from league.battles.services.games import SidePlan, plan_game
from league.clubs.services.clubs import found_club
from league.clubs.services.invitations import invite, join_by
from league.clubs.services.nights import answer_night, plan_night
from league.clubs.services.venues import add_table, add_venue
from league.rosters.services.facts import UnitFacts
from league.rosters.services.rosters import create_roster
from league.rulesets.queries import current_edition, shipped_documents
from league.rulesets.services.rulesets import create_ruleset
from league.stores.services.holdings import HoldingFacts, add_holding
from league.stores.services.kinds import KindFacts, add_kind
def account(name):
    return open_account(email=name.lower() + "@example.org", name=name, password={PASSWORD!r})
club = found_club(account("Odalys"), name="Old Mill", slug="old-mill", member_name="Odalys")
organiser = club.members.get()
invitation, secret = invite(club, uses_allowed=2, by=organiser)
brannoc, ceriden = [join_by(secret, user=account(name), name=name) for name in ("Brannoc", "Ceriden")]
document = shipped_documents()["ferry_skirmish"]
document["kit"]["needs"] = [each for each in document["kit"]["needs"] if each["key"] in ("activation", "draw_bag")]
document["kit"]["stand_ins"] = []
ruleset = create_ruleset(club, document=document, by=organiser)
hall = add_venue(club, name="The mill loft", by=organiser)
table = add_table(hall, number=1, width_mm=1800, depth_mm=1200, by=organiser)
night = plan_night(club, venue=hall, on=timezone.localdate() + timedelta(days=2), starts_at=time(19), by=organiser)
units = [UnitFacts(name=name, unit_class="line", figures=10, points=80) for name in ("Red Company", "Ochre Company")]
sides = []
for who in (brannoc, ceriden):
    roster = create_roster(club, owner=who, ruleset=ruleset, name=who.name, units=units, submission=uuid4(), by=who)
    sides.append(SidePlan(member_ids=[who.pk], roster_id=roster.pk))
    answer_night(night, member=who, answer="coming", by=who)
plan_game(club, edition=current_edition(ruleset), scenario="", on=night.on, night=night, table=table, sides=sides,
          submission=uuid4(), by=organiser)
tokens = add_kind(club, facts=KindFacts(name="Activation token", category="token", use="activation",
                  cautions=("small_parts",)), submission=uuid4(), by=organiser)
add_kind(club, facts=KindFacts(name="Draw bag", category="bag"), submission=uuid4(), by=organiser)
for who, colour in ((brannoc, "green"), (ceriden, "yellow")):
    add_holding(tokens, owner=who, count=6, facts=HoldingFacts(colour=colour), submission=uuid4(), by=who)
print("FACTS" + json.dumps({{"night": night.pk, "brannoc": brannoc.pk}}))
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
        page.goto("/account/login/")
        page.get_by_label("Email").fill(f"{name.lower()}@example.org")
        page.get_by_label("Password").fill(PASSWORD)
        page.get_by_role("main").get_by_role("button", name="Sign in").click()
        expect(page.get_by_role("heading", level=1)).to_be_visible()
        return page

    yield open_phone
    for context in contexts:
        context.close()


def test_a_shortfall_is_healed_from_a_phone_and_the_packing_list_prints(signed_in, facts, server, tmp_path):
    organiser = signed_in("Odalys")
    open_the_night(organiser, facts)
    expect(organiser.get_by_text("cannot do without is missing")).to_be_visible()
    row = organiser.get_by_role("row", name="Opaque bag to draw from")
    expect(row).to_contain_text("1")
    row.get_by_text("The proof").click()
    expect(row).to_contain_text("nobody who comes has anything that could serve")

    member = signed_in("Brannoc")
    add_a_spare(member)
    assert member.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")

    open_the_night(organiser, facts)
    expect(organiser.get_by_text("Everything the 1 table cannot do without will be there.")).to_be_visible()
    expect(organiser.get_by_role("heading", name="Missing")).to_have_count(0)

    pack(member, facts)
    print_it(member, tmp_path)
    assert server.manage("recount").strip().endswith("0 mismatches")


def open_the_night(page, facts):
    page.goto(f"/clubs/old-mill/nights/{facts['night']}/")
    page.get_by_role("link", name="Kit of the night").click()


def add_a_spare(page):
    page.goto("/clubs/old-mill/")
    page.get_by_role("link", name="Kit", exact=True).click()
    page.get_by_role("link", name="Add kit").click()
    page.get_by_label("What", exact=True).select_option(label="Draw bag")
    page.get_by_label("Colour").fill("black")
    page.get_by_role("button", name="Add it", exact=True).click()
    expect(page.get_by_role("link", name="Draw bag")).to_be_visible()


def pack(page, facts):
    page.goto(f"/clubs/old-mill/nights/{facts['night']}/kit/")
    page.get_by_role("link", name="What I bring").click()
    page.get_by_role("button", name="I bring all of it").click()
    expect(page.get_by_text("promised", exact=True)).to_have_count(2)
    page.get_by_role("button", name="Packed Draw bag").click()
    expect(page.get_by_role("row", name="Draw bag")).to_contain_text("packed")


def print_it(page, tmp_path):
    """On paper: what to pack and how many, an empty box to tick, the caution; none of the buttons."""
    page.emulate_media(media="print")
    expect(page.get_by_role("row", name="Draw bag")).to_contain_text("1")
    expect(page.locator(".tick").first).to_be_visible()
    expect(page.get_by_text("Take care")).to_be_visible()
    expect(page.get_by_role("button", name="Unpack")).to_be_hidden()
    printed = page.pdf(path=tmp_path / "packing.pdf", format="A4")
    assert printed.startswith(b"%PDF-")
    page.emulate_media(media="screen")


def test_a_spare_is_found_from_the_front_page_and_asked_for(signed_in, facts):
    page = signed_in("Ceriden")
    page.goto("/clubs/old-mill/")
    page.get_by_label("Who has spare").fill("green tokens")
    page.get_by_role("button", name="Search").click()
    expect(page.get_by_role("row", name="Activation token")).to_contain_text("Brannoc")
    page.get_by_role("link", name="Ask to borrow").click()
    page.get_by_role("spinbutton", name="How many").fill("2")
    page.get_by_role("button", name="Ask", exact=True).click()
    expect(page.get_by_text("You have asked")).to_be_visible()

    owner = signed_in("Brannoc")
    owner.goto("/clubs/old-mill/kit/loans/")
    owner.get_by_role("button", name="Agree").click()
    owner.get_by_role("button", name="Ceriden has the 2 now").click()
    expect(owner.get_by_role("spinbutton", name="How many came back")).to_have_value("2")
    owner.get_by_role("button", name="So many came back").click()
    expect(owner.get_by_text("all back")).to_be_visible()


def test_a_label_opens_the_count_on_a_phone(signed_in, facts):
    page = signed_in("Brannoc")
    page.goto("/clubs/old-mill/kit/labels/")
    page.locator(".tag-code a").first.click()
    expect(page.get_by_role("heading", name="Count what lies here")).to_be_visible()
    page.get_by_role("spinbutton", name="Activation token, green").fill("5")
    page.get_by_role("button", name="Write the count down").click()
    expect(page.get_by_role("alert")).to_contain_text("explains the difference")
    page.get_by_label("If it differs").fill("One rolled under the stove.")
    page.get_by_role("button", name="Write the count down").click()
    expect(page.get_by_text("The record says 5.")).to_be_visible()
