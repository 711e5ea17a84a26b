"""Seasons run by an organiser in a browser, from an empty season to the final table, by nothing but its pages."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

PASSWORD = "a pass phrase for tests"
SEASONS = "/clubs/old-mill/seasons/"

MAKE_CLUB = f"""
from accounts.services import open_account
from league.clubs.services.clubs import found_club
from league.clubs.services.members import add_guest
from league.clubs.services.venues import add_table, add_venue
from league.rulesets.queries import shipped_documents
from league.rulesets.services.rulesets import create_ruleset
user = open_account(email="odalys@example.org", name="Odalys", password={PASSWORD!r})
club = found_club(user, name="Old Mill", slug="old-mill", member_name="Odalys")
organiser = club.members.get()
for name in ("Ada", "Brannoc", "Ceriden", "Dorrit"):
    add_guest(club, name=name, by=organiser)
venue = add_venue(club, name="The boat shed", by=organiser)
for number in (1, 2, 3):
    add_table(venue, number=number, width_mm=1800, depth_mm=1200, by=organiser)
create_ruleset(club, document=shipped_documents()["ferry_skirmish"], by=organiser)
"""


@pytest.fixture(scope="module")
def club(server):
    server.manage("shell", "--command", MAKE_CLUB)


@pytest.fixture
def page(chromium, server, club):
    context = chromium.new_context(base_url=server.url, locale="en-GB")
    context.set_default_timeout(8_000)
    page = context.new_page()
    page.goto("/account/login/")
    page.get_by_label("Email").fill("odalys@example.org")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    yield page
    context.close()


def test_a_swiss_season_of_two_rounds(page):
    season = new_season(page, "Swiss spring", "swiss", {"Rounds planned": "2"}, ("Ada", "Brannoc", "Ceriden", "Dorrit"))
    met = []
    for number in (1, 2):
        page.goto(f"{season}rounds/new/")
        page.get_by_role("button", name="Add the round").click()
        page.get_by_role("link", name="Look at the draft").click()
        expect(page.get_by_text("They have not met before.").first).to_be_attached()
        page.get_by_role("button", name="Publish the round").click()
        expect(page.get_by_text("The round is published.")).to_be_visible()
        met += pairs(page)
        log_results(page, f"{season}rounds/{number}/")
    assert len({frozenset(pair) for pair in met}) == 4
    # The ruleset gives 3 for a win and half a point for every game played.
    assert sorted(points(page, season).values()) == ["1", "4", "4", "7"]


def test_a_round_robin_of_three(page):
    season = new_season(page, "Robin autumn", "round_robin", {}, ("Ada", "Brannoc", "Ceriden"))
    page.goto(f"{season}draw-up/")
    page.get_by_role("button", name="Draw them up").click()
    expect(page.get_by_text("All rounds are drawn up").first).to_be_visible()
    met = []
    for number in (1, 2, 3):
        page.goto(f"{season}rounds/{number}/")
        met += pairs(page)
        log_results(page, f"{season}rounds/{number}/")
    assert sorted(sorted(pair) for pair in met) == [["Ada", "Brannoc"], ["Ada", "Ceriden"], ["Brannoc", "Ceriden"]]
    assert len(points(page, season)) == 3


def test_a_double_round_robin_of_two(page):
    season = new_season(page, "Two reaches", "double_round_robin", {}, ("Ada", "Brannoc"))
    page.goto(f"{season}draw-up/")
    page.get_by_role("button", name="Draw them up").click()
    met = []
    for number in (1, 2):
        page.goto(f"{season}rounds/{number}/")
        met += pairs(page)
        log_results(page, f"{season}rounds/{number}/")
    assert sorted(met) == [("Ada", "Brannoc"), ("Brannoc", "Ada")]
    assert set(points(page, season).values()) == {"4"}


def test_a_knockout_of_four(page):
    season = new_season(page, "Knock-out", "knockout", {}, ("Ada", "Brannoc", "Ceriden", "Dorrit"))
    for number in (1, 2):
        publish_round(page, season)
        log_results(page, f"{season}rounds/{number}/")
    assert final_places(page, season) == {"1": 1, "2": 1, "3": 2}
    close(page, season)


def test_a_knockout_with_a_match_for_the_third_place(page):
    season = new_season(page, "Cup", "knockout", {}, ("Ada", "Brannoc", "Ceriden", "Dorrit"), third_place=True)
    for number in (1, 2):
        publish_round(page, season)
        log_results(page, f"{season}rounds/{number}/")
    assert final_places(page, season) == {"1": 1, "2": 1, "3": 1, "4": 1}


def test_two_groups_and_a_final(page):
    options = {"Groups": "2", "How many of each group go on": "1"}
    season = new_season(page, "Groups", "groups_knockout", options, ("Ada", "Brannoc", "Ceriden", "Dorrit"))
    for number in (1, 2):
        publish_round(page, season)
        log_results(page, f"{season}rounds/{number}/")
    assert final_places(page, season) == {"1": 1, "2": 1}
    close(page, season)


def test_a_swiss_season_at_tables_of_three(page):
    """Three meet in one game; the first of them wins it, the others share the rest."""
    season = new_season(
        page, "Three a table", "swiss", {"Rounds planned": "1"}, ("Ada", "Brannoc", "Ceriden"), sides="three"
    )
    publish_round(page, season)
    log_results(page, f"{season}rounds/1/")
    assert len(points(page, season)) == 3
    close(page, season)


def test_divisions_with_one_up_and_one_down(page):
    """Two divisions of two play a round robin each; the next season has the winner below and the loser above changed."""
    season = new_season(page, "Two divisions", "round_robin", {}, ("Ada", "Brannoc", "Ceriden", "Dorrit"))
    for level, (name, up, down) in enumerate((("Upper", "0", "1"), ("Lower", "1", "0")), start=1):
        page.goto(f"{season}divisions/new/")
        page.get_by_label("Name").fill(name)
        page.get_by_label("Level").fill(str(level))
        page.get_by_label("How many go up at the end").fill(up)
        page.get_by_label("How many go down at the end").fill(down)
        page.get_by_role("button", name="Add the division").click()
        expect(page.get_by_role("heading", name=name)).to_be_visible()
    for name, division in (("ada", "Upper"), ("brannoc", "Upper"), ("ceriden", "Lower"), ("dorrit", "Lower")):
        page.goto(f"{season}entrants/{name}/place/")
        page.get_by_label("Division").select_option(label=division)
        page.get_by_role("button", name="Save").click()
        expect(page).to_have_url(season, timeout=8_000)
    page.goto(f"{season}draw-up/")
    page.get_by_role("button", name="Draw them up").click()
    log_results(page, f"{season}rounds/1/")
    upper, lower = people_by_division(page, season)
    page.goto(f"{season}next-season/")
    page.get_by_label("Name of the season").fill("Two divisions again")
    page.get_by_role("button", name="Make the season").click()
    expect(page.get_by_role("heading", name="Two divisions again")).to_be_visible()
    after = re.search(r"/clubs/old-mill/seasons/\d+/", page.url).group()
    assert [set(each) for each in people_by_division(page, after)] == [{upper[0], lower[0]}, {upper[1], lower[1]}]


def test_an_open_season(page):
    season = new_season(page, "Open", "open", {"Only so many of the best results count": "1"}, ("Ada", "Brannoc"))
    for _game in range(2):
        page.goto(f"{season}challenge/")
        page.get_by_label("Who").select_option(label="Ada")
        page.get_by_label("Meets").select_option(label="Brannoc")
        page.get_by_role("button", name="Arrange it").click()
        expect(page).to_have_url(re.compile("/games/"))
    log_results(page, f"{season}rounds/0/")
    # The better one of two wins: 3 points and half a point for playing.
    assert points(page, season) == {"Ada": "3½", "Brannoc": "½"}


def test_a_game_of_a_ladder(page):
    season = new_season(page, "Ladder", "ladder", {}, ("Ada", "Brannoc"))
    page.goto(f"{season}ladder/")
    page.get_by_role("link", name="Challenge somebody").click()
    page.get_by_label("Who").select_option(label="Brannoc")
    page.get_by_label("Meets").select_option(label="Ada")
    page.get_by_role("button", name="Arrange it").click()
    log_results(page, f"{season}rounds/0/")
    page.goto(f"{season}ladder/")
    expect(page.get_by_text("from 2 to 1 by beating Ada")).to_be_visible()


def new_season(page, name, format_name, options, people, *, sides="", third_place=False):
    """The address of a season of this format, with everybody entered."""
    page.goto(f"{SEASONS}new/")
    page.get_by_label("Name of the season").fill(name)
    page.get_by_role("button", name="Make the season").click()
    expect(page.get_by_text("Say next how its rounds come about")).to_be_visible()
    season = re.search(r"/clubs/old-mill/seasons/\d+/", page.url).group()
    page.get_by_label("How rounds come about").select_option(value=format_name)
    for label, value in options.items():
        page.get_by_label(label, exact=False).first.fill(value)
    if sides:
        page.get_by_label("How many meet in one game").select_option(label=sides)
    if third_place:
        page.get_by_label("Play for the third place").check()
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("heading", level=1, name="Enter players")).to_be_visible()
    for person in people:
        page.get_by_label(person).check()
    page.get_by_role("button", name="Enter them").click()
    return season


def publish_round(page, season):
    """The next round, as drafted."""
    page.goto(f"{season}rounds/new/")
    page.get_by_role("button", name="Add the round").click()
    page.get_by_role("link", name="Look at the draft").click()
    page.get_by_role("button", name="Publish the round").click()
    expect(page.get_by_text("The round is published.")).to_be_visible()


def final_places(page, season):
    """How many entrants the bracket's page shows in each place."""
    page.goto(f"{season}bracket/")
    expect(page.get_by_role("heading", name="Places so far")).to_be_visible()
    lines = page.locator("dl.facts > div")
    told = [(line.locator("dt").inner_text(), line.locator("dd").inner_text()) for line in lines.all()]
    return {place: len(names.split(",")) for place, names in told}


def close(page, season):
    """The season is over, and its page says so."""
    page.goto(f"{season}close/")
    page.get_by_role("button", name="Close").click()
    page.goto(season)
    expect(page.get_by_text("closed").first).to_be_visible()


def people_by_division(page, season):
    """Who is in each division, by its table from the top."""
    page.goto(f"{season}divisions/")
    tables = page.locator("main table").all()
    return [[name.strip() for name in each.locator("td[data-label=Entrant]").all_inner_texts()] for each in tables]


def pairs(page):
    """Who meets whom on the page of a round."""
    seats = page.locator("td[data-label=Who]").all_inner_texts()
    return [tuple(name.strip() for name in seat.split(" v ")) for seat in seats if " v " in seat]


def log_results(page, address):
    """Every game of a round reported; the first of each wins."""
    while True:
        page.goto(address)
        links = page.get_by_role("link", name="Log the result")
        if not links.count():
            return
        links.first.click()
        page.locator("[name='sides.0.score']").fill("9")
        for loser in page.locator("[name$='.score']:not([name='sides.0.score'])").all():
            loser.fill("2")
        page.get_by_role("button", name="File the report").click()
        expect(page).to_have_url(re.compile("/reports/"))


def points(page, season):
    page.goto(f"{season}standings/")
    rows = page.locator("tbody tr")
    return {
        rows.nth(place).locator("td[data-label=Entrant]").inner_text(): rows.nth(place)
        .locator("td[data-label=Points]")
        .inner_text()
        .strip()
        for place in range(rows.count())
    }
