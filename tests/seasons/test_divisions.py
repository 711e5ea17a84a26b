"""Divisions: a table for each, drafts within each, and who goes up and down."""

from __future__ import annotations

import uuid
from datetime import date

import pytest
from django.urls import reverse

from league.seasons.queries.divisions import division_tables, moves_of
from league.seasons.services.divisions import add_division, change_division, start_next_season
from league.seasons.services.formats import draw_up_rounds
from league.seasons.services.placing import place_entrant
from league.seasons.services.seasons import SeasonRefused
from tests.seasons.drafted import fill, play, seats


@pytest.fixture
def upper(season, organiser):
    return add_division(season, name="Upper Reach", level=1, relegates=1, by=organiser)


@pytest.fixture
def lower(season, upper, organiser):
    return add_division(season, name="Lower Reach", level=2, promotes=1, by=organiser)


@pytest.fixture
def eight(season, upper, lower, organiser):
    """Four in each division; the first entered seeded first."""
    entrants = fill(season, 8, by=organiser, pairing={"format": "round_robin"})
    for number, entrant in enumerate(entrants, start=1):
        place_entrant(entrant, division=upper if number <= 4 else lower, seed_number=number, by=organiser)
    return entrants


def played(season, organiser):
    """Every game won by the one seeded higher."""
    for in_round in draw_up_rounds(season, by=organiser):
        play(in_round, by=organiser, score=higher_seed_wins)


def higher_seed_wins(pairing):
    first, second = (seat.entrant for seat in pairing.seats.select_related("entrant").order_by("position"))
    return (9, 4) if first.seed_number < second.seed_number else (4, 9)


def test_each_division_plays_within_itself(season, eight, organiser):
    divisions = {entrant.key: entrant.division_id for entrant in eight}
    pairs = [pair for in_round in draw_up_rounds(season, by=organiser) for pair in seats(in_round)]
    assert len(pairs) == 2 * 6
    assert all(divisions[one] == divisions[other] for one, other in pairs)


def test_each_division_has_a_table(season, eight, organiser):
    played(season, organiser)
    tables = [[row.entrant_id for row in each.rows] for each in division_tables(season)]
    assert tables == [[entrant.key for entrant in eight[:4]], [entrant.key for entrant in eight[4:]]]


def test_the_last_above_and_the_first_below_change_places(season, eight, organiser):
    played(season, organiser)
    moves = {move.entrant: (move.goes_up, move.goes_down) for move in moves_of(season)}
    assert [entrant for entrant, (up, _down) in moves.items() if up] == [eight[4]]
    assert [entrant for entrant, (_up, down) in moves.items() if down] == [eight[3]]


def test_nobody_goes_up_from_the_highest_or_down_from_the_lowest(season, upper, lower, eight, organiser):
    for division in (upper, lower):
        change_division(division, name=division.name, level=division.level, promotes=1, relegates=1, by=organiser)
    played(season, organiser)
    assert sum(move.goes_up for move in moves_of(season)) == sum(move.goes_down for move in moves_of(season)) == 1


def test_the_next_season_has_everybody_where_they_belong(season, eight, organiser):
    played(season, organiser)
    made = start_next_season(season, name="Summer", starts_on=date(2026, 6, 1), submission=uuid.uuid4(), by=organiser)
    belongs = dict(made.entrants.values_list("name", "division__name"))
    assert belongs[eight[4].name] == "Upper Reach"
    assert belongs[eight[3].name] == "Lower Reach"
    assert made.players.count() == 8
    assert made.format == "round_robin"


def test_the_next_season_asked_for_twice_is_made_once(season, eight, organiser):
    facts = {"name": "Summer", "starts_on": date(2026, 6, 1), "submission": uuid.uuid4(), "by": organiser}
    assert start_next_season(season, **facts) == start_next_season(season, **facts)


def test_a_season_without_divisions_has_no_such_successor(season, organiser):
    with pytest.raises(SeasonRefused):
        start_next_season(season, name="Summer", starts_on=date(2026, 6, 1), submission=uuid.uuid4(), by=organiser)


def test_a_division_with_everything_wrong_says_all_of_it(season, upper, organiser):
    with pytest.raises(SeasonRefused) as refusal:
        add_division(season, name=" ", level=1, promotes=-1, by=organiser)
    assert {each.field for each in refusal.value.violations} == {"name", "level", "promotes"}


def test_the_page_shows_the_divisions_to_everybody_of_the_club(browse, season, eight, member):
    page = browse(member).get(reverse("divisions", kwargs={"club": season.club.slug, "pk": season.pk}))
    assert "Upper Reach" in page.text
    assert eight[0].name in page.text


def test_the_next_season_is_made_on_its_page(browse, season, eight, organiser):
    played(season, organiser)
    address = reverse("next-season", kwargs={"club": season.club.slug, "pk": season.pk})
    assert "goes up" in browse(organiser).get(address).text
    facts = {"name": "Summer", "starts_on": "2026-06-01", "submission": str(uuid.uuid4())}
    assert browse(organiser).post(address, facts).status_code == 302


def test_the_divisions_over_the_api(call, season, eight, member):
    told = call(member).get(f"/api/v1/clubs/weir-street/seasons/{season.pk}/divisions/").json()
    assert [(each["name"], len(each["rows"])) for each in told] == [("Upper Reach", 4), ("Lower Reach", 4)]
