"""Every kind of page at 360 pixels, light and dark: axe finds nothing, nothing spills over, nothing comes from outside.

axe: WCAG rules of Deque's axe-core as shipped by axe-playwright-python (https://github.com/dequelabs/axe-core).
Reflow: WCAG 2.2, 1.4.10 asks for 320 CSS pixels without scrolling in two directions; 360 is the narrowest phone sold
today (common practice, no source), so both widths are looked at.
"""

from __future__ import annotations

import re
from urllib.parse import urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.conftest import PHONE
from tests.servers import Server

CLUB = "/clubs/weir-street"
# The seasons of the demo, in the order in which it makes them.
DIVISIONS, LEAGUE, CUP, LADDER, SWISS = (f"{CLUB}/seasons/{number}" for number in (2, 4, 5, 6, 7))
SIGNED_OUT = [
    "/",
    "/account/login/",
    "/account/password/reset/",
    f"{CLUB}/",
    f"{LEAGUE}/standings/",
    f"{SWISS}/rounds/3/board/",
]
SIGNED_IN = [
    "/clubs/",
    "/account/",
    "/account/password/change/",
    "/account/tokens/",
    f"{CLUB}/",
    f"{CLUB}/log/",
    f"{CLUB}/desk/",
    f"{CLUB}/book/",
    f"{CLUB}/members/",
    f"{CLUB}/players/1/",
    f"{CLUB}/my-privacy/",
    f"{CLUB}/invitations/",
    f"{CLUB}/venues/1/",
    f"{CLUB}/nights/",
    f"{CLUB}/nights/1/",
    f"{CLUB}/nights/4/kit/",
    f"{CLUB}/nights/4/kit/?budget=5",
    f"{CLUB}/nights/4/kit/packing/1/",
    f"{CLUB}/nights/4/kit/tables/",
    f"{CLUB}/kit/",
    f"{CLUB}/kit/?q=markers",
    f"{CLUB}/kit/mine/",
    f"{CLUB}/kit/holdings/new/",
    f"{CLUB}/kit/holdings/1/",
    f"{CLUB}/kit/enough/",
    f"{CLUB}/kit/enough/?what=dice",
    f"{CLUB}/kit/import/",
    f"{CLUB}/kit/loans/",
    f"{CLUB}/kit/loans/1/",
    f"{CLUB}/kit/labels/?whose=club",
    f"{CLUB}/kit/kinds/",
    f"{CLUB}/kit/kinds/1/",
    f"{CLUB}/rosters/1/kit/",
    f"{CLUB}/campaigns/",
    f"{CLUB}/campaigns/new/",
    f"{CLUB}/campaigns/1/",
    f"{CLUB}/campaigns/1/turns/3/",
    f"{CLUB}/campaigns/1/lines/",
    f"{CLUB}/campaigns/1/dice/",
    f"{CLUB}/games/",
    f"{CLUB}/games/new/",
    f"{CLUB}/balance/",
    f"{CLUB}/games/1/",
    f"{CLUB}/reports/1/",
    f"{CLUB}/rosters/",
    f"{CLUB}/rosters/1/",
    f"{CLUB}/rosters/1/import/",
    f"{CLUB}/rulesets/1/",
    f"{CLUB}/rulesets/1/edit/scenarios/",
    f"{CLUB}/seasons/",
    f"{CLUB}/ratings/",
    f"{LEAGUE}/",
    f"{LEAGUE}/standings/",
    f"{LEAGUE}/forecast/",
    f"{LEAGUE}/rounds/1/",
    f"{LEAGUE}/rounds/1/pair/",
    f"{LEAGUE}/rules/",
    f"{LEAGUE}/fixtures/",
    f"{SWISS}/",
    f"{SWISS}/format/",
    f"{SWISS}/seeding/",
    f"{SWISS}/format/edit/",
    f"{SWISS}/rounds/4/draft/",
    f"{SWISS}/rounds/4/pins/new/",
    f"{SWISS}/rounds/3/board/",
    f"{SWISS}/rounds/3/sheet/",
    f"{CUP}/bracket/",
    f"{CUP}/forecast/",
    f"{LADDER}/ladder/",
    f"{LADDER}/challenge/",
    f"{DIVISIONS}/divisions/",
    f"{DIVISIONS}/forecast/",
    f"{DIVISIONS}/next-season/",
    f"{DIVISIONS}/divisions/new/",
]
SPILL = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """A site with the demo club, and its organiser's address and password."""
    server = Server(tmp_path_factory.mktemp("demo"))
    told = server.manage("demo", "--no-serve")
    organiser = re.search(r"^\s+(\S+@\S+)\s+(\S+)\s.*\(organiser\)", told, re.MULTILINE)
    server.start()
    yield server, organiser.groups()
    server.stop()


@pytest.fixture(scope="module")
def page(chromium, demo):
    """A phone's page that keeps what went wrong while it was open."""
    server, _organiser = demo
    context = chromium.new_context(base_url=server.url, locale="en-GB", **PHONE)
    page = context.new_page()
    page.trouble = []
    page.on("console", lambda said: page.trouble.append(said.text) if said.type in {"error", "warning"} else None)
    page.on("pageerror", lambda error: page.trouble.append(str(error)))
    host = urlsplit(server.url).netloc
    page.on("request", lambda sent: None if is_home(sent.url, host) else page.trouble.append(f"asks {sent.url}"))
    yield page
    context.close()


@pytest.fixture(scope="module")
def signed_in(page, demo):
    _server, (address, password) = demo
    page.goto("/account/login/")
    page.get_by_label("Email").fill(address)
    page.get_by_label("Password", exact=True).fill(password)
    page.get_by_role("main").get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/clubs/weir-street/")
    return page


def is_home(url: str, host: str) -> bool:
    return url.startswith(("data:", "blob:")) or urlsplit(url).netloc == host


def faults(page, address: str) -> list[str]:
    """Everything wrong with one page, in lines a person can act on."""
    page.trouble.clear()
    answer = page.goto(address)
    found = [] if answer.ok else [f"answers {answer.status}"]
    for width in (360, 320):
        page.set_viewport_size({"width": width, "height": 740})
        if spilt := page.evaluate(SPILL):
            found.append(f"{spilt} pixels beyond the edge at {width}")
    page.set_viewport_size({"width": 360, "height": 740})
    found += seen_by_axe(page)
    page.emulate_media(color_scheme="dark")
    found += seen_by_axe(page, options={"runOnly": ["color-contrast"]})  # the one rule that colours can break
    page.emulate_media(color_scheme="light")
    return found + page.trouble


def seen_by_axe(page, **how) -> list[str]:
    violations = Axe().run(page, **how).response["violations"]
    return [f"{each['id']}: {node['html'][:200]}" for each in violations for node in each["nodes"]]


@pytest.mark.parametrize("address", SIGNED_OUT)
def test_a_page_for_visitors_is_in_order_on_a_phone(page, address):
    assert faults(page, address) == []


@pytest.mark.parametrize("address", SIGNED_IN)
def test_a_page_for_members_is_in_order_on_a_phone(signed_in, address):
    assert faults(signed_in, address) == []


def test_a_form_that_was_refused_is_in_order(signed_in):
    signed_in.goto(f"{CLUB}/log/")
    signed_in.get_by_role("button", name="Save the result").click()
    signed_in.get_by_role("alert").wait_for()
    assert signed_in.title().startswith("Error:")
    assert seen_by_axe(signed_in) == []


def test_an_open_menu_is_in_order(signed_in):
    signed_in.goto(f"{CLUB}/")
    signed_in.locator("details.menu summary").click()
    assert seen_by_axe(signed_in) == []
