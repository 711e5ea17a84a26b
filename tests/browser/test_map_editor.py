"""The map editor by mouse, by touch, by keyboard, and the same work without any script."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import expect

PASSWORD = "a pass phrase for tests"
MAKE_CLUB = f"""
import json
from uuid import uuid4
from accounts.services import open_account
from league.campaigns.services.drawing_up import found_campaign
from league.clubs.services.clubs import found_club
from league.rulesets.queries import current_edition, shipped_documents
from league.rulesets.services.rulesets import create_ruleset
user = open_account(email="odalys@example.org", name="Odalys", password={PASSWORD!r})
club = found_club(user, name="Old Mill", slug="old-mill", member_name="Odalys")
organiser = club.members.get()
ruleset = create_ruleset(club, document=shipped_documents()["ferry_skirmish"], by=organiser)
made = [found_campaign(club, edition=current_edition(ruleset), name=f"War {{n}}", submission=uuid4(), by=organiser)
        for n in range(4)]
print("FACTS" + json.dumps([each.pk for each in made]))
"""


@pytest.fixture(scope="module")
def campaigns(server):
    printed = server.manage("shell", "--command", MAKE_CLUB)
    return json.loads(printed.split("FACTS", 1)[1])


def signed_in(context):
    page = context.new_page()
    page.goto("/account/login/")
    page.get_by_label("Email").fill("odalys@example.org")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("main").get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    page.set_default_timeout(8_000)
    return page


@pytest.fixture
def desk(chromium, server):
    context = chromium.new_context(base_url=server.url, locale="en-GB", viewport={"width": 1280, "height": 1000})
    yield context
    context.close()


def editor(page, campaign):
    page.goto(f"/clubs/old-mill/campaigns/drafts/{campaign}/map/")
    return page


def drawn(page):
    return json.loads(page.locator("textarea[name=text]").input_value())


def save(page):
    page.get_by_role("button", name="Save the map").click()
    page.wait_for_load_state()


def region(page, name):
    return page.get_by_role("button", name=name)


def middle(locator):
    box = locator.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_by_mouse_regions_are_placed_dragged_joined_and_kept(desk, campaigns):
    page = editor(signed_in(desk), campaigns[0])
    canvas = page.locator("svg.map-work")
    for x, y, name in ((200, 300, "Harrow"), (500, 300, "Tolley")):
        page.get_by_role("button", name="New region", exact=True).click()
        canvas.click(position={"x": x, "y": y})
        page.locator("#map-name").fill(name)
        page.locator("#map-name").blur()
    harrow = region(page, "Harrow").locator(".map-post")
    harrow.hover()  # waits until the page has come to rest
    x, y = middle(harrow)
    page.mouse.down()
    page.mouse.move(x + 60, y + 80, steps=4)
    page.mouse.up()
    region(page, "Harrow").locator(".map-post").click()
    page.get_by_role("button", name="Road from here").click()
    region(page, "Tolley").locator(".map-post").click()
    expect(page.get_by_role("status").filter(has_text="A road joins Harrow and Tolley.")).to_be_visible()
    save(page)
    told = drawn(page)
    assert [each["name"] for each in told["regions"]] == ["Harrow", "Tolley"]
    assert told["regions"][0]["y"] > told["regions"][1]["y"]
    assert [(each["a"], each["b"]) for each in told["roads"]] == [("r1", "r2")]


def test_by_touch_a_region_is_placed_and_chosen(phone, campaigns):
    page = editor(signed_in(phone), campaigns[1])
    page.get_by_role("button", name="New region", exact=True).tap()
    page.locator("svg.map-work").tap(position={"x": 120, "y": 200})
    page.locator("#map-name").fill("Ford")
    page.locator("#map-name").blur()
    page.locator(".map-ground").tap(position={"x": 20, "y": 20})
    region(page, "Ford").locator(".map-post").tap()
    expect(page.locator("#map-name")).to_have_value("Ford")
    save(page)
    assert [each["name"] for each in drawn(page)["regions"]] == ["Ford"]


def test_by_keyboard_alone_a_map_is_drawn(desk, campaigns):
    page = editor(signed_in(desk), campaigns[2])
    for name in ("Kell", "Quill"):
        page.get_by_role("button", name="New region", exact=True).focus()
        page.keyboard.press("Enter")
        expect(page.locator("#map-name")).to_be_focused()
        page.keyboard.type(name)
        page.keyboard.press("Tab")
    region(page, "Quill").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("r")
    region(page, "Kell").focus()
    page.keyboard.press("Enter")
    told = drawn(page)
    assert told["regions"][1]["y"] == told["regions"][0]["y"] + 50
    assert [(each["a"], each["b"]) for each in told["roads"]] == [("r2", "r1")]
    region(page, "Kell,").focus()
    page.keyboard.press("Delete")
    assert [each["name"] for each in drawn(page)["regions"]] == ["Quill"]
    assert drawn(page)["roads"] == []
    page.locator("svg.map-work [data-at]").first.focus()
    page.keyboard.press("Control+z")
    assert [each["name"] for each in drawn(page)["regions"]] == ["Kell", "Quill"]
    save(page)
    assert len(drawn(page)["roads"]) == 1


def test_a_refused_map_stays_on_the_drawing(desk, campaigns):
    page = editor(signed_in(desk), campaigns[0])
    page.get_by_role("button", name="New region", exact=True).focus()
    page.keyboard.press("Enter")
    expect(page.locator("#map-name")).to_be_focused()
    page.keyboard.type("Harrow")
    page.keyboard.press("Tab")
    assert sum(each["name"] == "Harrow" for each in drawn(page)["regions"]) == 2
    save(page)
    expect(page.get_by_text("There is a problem")).to_be_visible(timeout=15_000)
    assert sum(each["name"] == "Harrow" for each in drawn(page)["regions"]) == 2
    assert page.locator("svg.map-work .map-place").count() == 3


def test_without_scripts_the_map_is_drawn_by_forms(chromium, server, campaigns):
    context = chromium.new_context(base_url=server.url, locale="en-GB", java_script_enabled=False)
    page = editor(signed_in(context), campaigns[3])
    for name in ("Osier", "Fenny"):
        page.get_by_role("link", name="New region by form").click()
        page.get_by_label("Name", exact=True).fill(name)
        page.get_by_label("Terrain").fill("marsh")
        page.get_by_role("button", name="Put it on the map").click()
    page.get_by_role("link", name="New road by form").click()
    page.get_by_label("From", exact=True).select_option("Osier")
    page.get_by_label("To", exact=True).select_option("Fenny")
    page.get_by_role("button", name="Put it on the map").click()
    expect(page.get_by_role("link", name="Osier – Fenny", exact=True)).to_be_visible()
    context.close()
