"""What everybody looks at in the hall: the board, the sheet, the knock-out with its groups, the divisions."""

from __future__ import annotations

from datetime import date

import pytest
from django.urls import reverse

from league.seasons.services.divisions import add_division
from league.seasons.services.placing import place_entrant
from league.seasons.services.postponements import postpone
from tests.seasons.drafted import fill, next_round, play

pytestmark = pytest.mark.django_db


@pytest.fixture
def open_page(browse, member, season):
    def told(name: str, **where: object) -> str:
        address = reverse(name, kwargs={"club": season.club.slug, "pk": season.pk, **where})
        return browse(member).get(address).content.decode()

    return told


def test_the_board_says_who_plays_where_and_what_came_of_it(open_page, season, organiser):
    fill(season, 4, by=organiser, pairing={"format": "swiss"})
    first = next_round(season, by=organiser)
    late = first.pairings.order_by("position").last()
    postpone(late, until=date(2026, 3, 5), by=organiser)
    assert "postponed until Thu 5 Mar 2026" in open_page("round-board", number=1)
    play(first, by=organiser)
    assert "9\N{NO-BREAK SPACE}:\N{NO-BREAK SPACE}4" in open_page("round-board", number=1)


@pytest.mark.parametrize(("entrants", "tables"), [(16, 1), (18, 2)])
def test_the_board_of_a_large_round_stands_in_two_columns(open_page, season, organiser, entrants, tables):
    fill(season, entrants, by=organiser, pairing={"format": "swiss"})
    next_round(season, by=organiser)
    assert open_page("round-board", number=1).count("<table") == tables


def test_the_knockout_shows_its_groups_while_they_play(open_page, season, organiser):
    fill(season, 4, by=organiser, pairing={"format": "groups_knockout", "groups": 2, "advance": 1})
    play(next_round(season, by=organiser), by=organiser)
    page = open_page("bracket")
    assert "Group 1" in page
    assert "Group 2" in page
    assert "final" in page


def test_rounds_of_a_knockout_are_named_from_the_final_back(open_page, season, organiser):
    fill(season, 16, by=organiser, pairing={"format": "knockout", "third_place": True})
    page = open_page("bracket")
    for words in ("last 16", "quarter-final", "semi-final", "third place", "final"):
        assert words in page


def test_the_divisions_say_who_goes_up_and_down(open_page, season, organiser):
    entrants = fill(season, 4, by=organiser)
    for level, name in enumerate(("Upper reach", "Lower reach"), 1):
        division = add_division(season, name=name, level=level, promotes=1, relegates=1, by=organiser)
        for entrant in entrants[2 * level - 2 : 2 * level]:
            place_entrant(entrant, division=division, by=organiser)
    page = open_page("divisions")
    assert page.count("▲ goes up") == 1
    assert page.count("▼ goes down") == 1
    assert "The last goes down." in page
    assert "The first goes up." in page


def test_days_of_a_season_are_written_one_way(open_page, season, organiser):
    fill(season, 2, by=organiser, pairing={"format": "swiss"})
    next_round(season, by=organiser)
    page = open_page("season")
    assert "Thu 15 Jan 2026" in page
    assert "Thu 22 Jan 2026" in page


def test_the_board_renews_itself_only_where_asked_to(browse, season, organiser, member):
    fill(season, 2, by=organiser, pairing={"format": "swiss"})
    next_round(season, by=organiser)
    address = reverse("round-board", kwargs={"club": season.club.slug, "pk": season.pk, "number": 1})
    assert 'http-equiv="refresh"' not in browse(member).get(address).content.decode()
    assert 'http-equiv="refresh"' in browse(member).get(address, {"live": "1"}).content.decode()
