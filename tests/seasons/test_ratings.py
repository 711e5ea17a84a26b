"""Ratings follow from the reports: which games count, from when on, who reads whose name."""

from __future__ import annotations

import re
from datetime import date
from uuid import uuid4

import pytest
from django.utils import timezone

from league.battles.services.answers import dispute_report, settle_report
from league.battles.services.claims import ReportClaim, SideClaim
from league.battles.services.games import GamePlan, SidePlan
from league.battles.services.reports import correct_report, log_game
from league.seasons.queries.ratings import PROVISIONAL_ABOVE, club_history, rating_curve, ratings_of
from tests import factories
from tests.battle_play import play_quick_game

pytestmark = pytest.mark.django_db

JANUARY, FEBRUARY, MARCH = date(2026, 1, 20), date(2026, 2, 10), date(2026, 3, 19)
TODAY = date(2026, 3, 31)


def ratings(club, viewer=None):
    return {line.name: round(line.rating) for line in ratings_of(club, viewer=viewer, today=TODAY).lines}


def play_many(filer, *sides, scores, on=MARCH):
    """A game of any sides, each a list of members."""
    edition = factories.EditionFactory(ruleset__club=filer.club)
    plan = GamePlan(edition=edition, on=on, sides=[SidePlan(member_ids=[one.pk for one in side]) for side in sides])
    claims = [SideClaim(position=position, score=score) for position, score in enumerate(scores, 1)]
    return log_game(filer.club, plan=plan, claim=ReportClaim(fought_on=on, sides=claims), submission=uuid4(), by=filer)


def test_the_winner_of_the_first_game_gains_what_the_loser_gives(club, member, opponent):
    play_quick_game(member, opponent)
    told = ratings(club, member)
    assert told["Brannoc"] + told["Ceriden"] == 3000
    assert told["Brannoc"] > 1500


def test_the_first_game_moves_a_newcomer_as_the_published_formulas_say(club, member, opponent):
    """Both at 1500 ± 350. By Glickman's "Example of the Glicko-2 system" (2013), steps 2 to 8, worked on paper with
    the volatility left at 0.06: phi = 2.0148, g = 0.6690, E = 0.5, v = 8.936, phi* = 2.0157, phi' = 1.6712."""
    play_quick_game(member, opponent)
    line = next(each for each in ratings_of(club, viewer=member, today=TODAY).lines if each.name == "Brannoc")
    assert (line.rating, line.deviation) == pytest.approx((1662.3, 290.3), abs=0.1)


def test_a_disputed_report_does_not_count(club, member, opponent):
    report = play_quick_game(member, opponent)
    dispute_report(report, text="It was otherwise.", by=opponent)
    assert ratings(club, member) == {}


def test_a_report_struck_out_by_the_umpire_does_not_count(club, member, opponent, umpire):
    report = play_quick_game(member, opponent)
    dispute_report(report, text="It was otherwise.", by=opponent)
    settle_report(report, verdict="void", text="Nobody knows any more.", by=umpire)
    assert ratings(club, member) == {}


def test_a_corrected_report_re_rates_every_month_since(club, member, opponent):
    wrong = play_quick_game(member, opponent, scores=(12, 7), on=JANUARY)
    play_quick_game(member, opponent, scores=(9, 9), on=MARCH)
    before = rating_curve(member, today=TODAY)
    right = ReportClaim(fought_on=JANUARY, sides=[SideClaim(position=1, score=7), SideClaim(position=2, score=12)])
    correct_report(wrong, claim=right, reason="Sides were mixed up", submission=uuid4(), by=member)
    after = rating_curve(member, today=TODAY)
    assert [step.month for step in after] == [step.month for step in before]
    assert [step.rating for step in after] == pytest.approx([3000 - step.rating for step in before])


def test_a_rating_period_is_a_month_so_two_games_in_one_are_rated_together(club, member, opponent):
    play_quick_game(member, opponent, on=date(2026, 3, 1))
    play_quick_game(member, opponent, on=date(2026, 3, 31))
    curve = rating_curve(member, today=TODAY)
    assert [(step.month, step.games) for step in curve] == [(date(2026, 3, 1), 2)]


def test_a_month_without_games_leaves_the_rating_and_widens_the_doubt(club, member, opponent):
    play_quick_game(member, opponent, on=JANUARY)
    january, february, _march = rating_curve(member, today=TODAY)
    assert february.rating == january.rating
    assert february.deviation > january.deviation


def test_a_rating_is_provisional_until_six_or_seven_games_are_played(club, member, opponent):
    for count in range(1, 8):
        play_quick_game(member, opponent, scores=(9, 9))
        lines = ratings_of(club, viewer=member, today=TODAY).lines
        assert all(line.is_provisional == (line.deviation > PROVISIONAL_ABOVE) for line in lines)
        if count == 5:
            assert all(line.is_provisional for line in lines)


def test_those_with_a_place_stand_before_those_without(club, member, opponent, guest, umpire):
    for _each in range(12):
        play_quick_game(member, opponent, scores=(9, 9))
    play_quick_game(umpire, guest)
    lines = ratings_of(club, viewer=member, today=TODAY).lines
    assert [line.rank for line in lines] == [1, 1, None, None]
    assert lines[2].rating > lines[0].rating


def test_the_last_change_is_that_of_the_last_month_with_games(club, member, opponent):
    play_quick_game(member, opponent, on=JANUARY)
    (january, *_rest) = rating_curve(member, today=TODAY)
    line = next(each for each in ratings_of(club, viewer=member, today=TODAY).lines if each.member_id == member.pk)
    assert (line.month, line.change) == (date(2026, 1, 1), january.rating - 1500)


def test_one_who_left_is_on_no_list_but_the_games_still_count(club, member, opponent):
    play_quick_game(member, opponent)
    opponent.left_at = timezone.now()
    opponent.save(update_fields=["left_at"])
    assert list(ratings(club, member)) == ["Brannoc"]


def test_games_of_teams_go_to_the_second_list_alone(club, member, opponent, guest, umpire):
    play_many(member, [member, guest], [opponent, umpire], scores=(10, 4))
    told = ratings_of(club, viewer=member, today=TODAY)
    assert told.lines == ()
    assert {line.name for line in told.teams[:2]} == {"Brannoc", "Gorran"}
    assert told.team_games == 1


def test_in_a_game_of_three_sides_the_order_of_the_losers_counts(club, member, opponent, guest):
    play_many(member, [member], [opponent], [guest], scores=(10, 2, 6))
    assert [line.name for line in ratings_of(club, viewer=member, today=TODAY).teams] == [
        "Brannoc",
        "Gorran",
        "Ceriden",
    ]


def test_games_of_another_club_do_not_count(club, member, opponent, outsider):
    other = factories.MemberFactory(club=outsider.club)
    play_quick_game(outsider, other)
    assert ratings(club, member) == {}


def test_nothing_is_said_of_the_forecasts_before_thirty_games(club, member, opponent):
    play_quick_game(member, opponent)
    assert not ratings_of(club, viewer=member, today=TODAY).says_quality


def test_a_report_dated_past_today_is_rated_all_the_same(club, member, opponent):
    play_quick_game(member, opponent, on=MARCH)
    assert club_history(club, today=JANUARY).rating(member.pk) is not None


# --- pages -------------------------------------------------------------------------------------


@pytest.fixture
def address(club):
    return f"/clubs/{club.slug}/ratings/"


def test_the_page_tells_rating_and_deviation_together(browse, address, member, opponent):
    play_quick_game(member, opponent)
    page = browse(member).get(address).content.decode()
    assert "1662\N{NARROW NO-BREAK SPACE}±\N{NARROW NO-BREAK SPACE}" in page
    assert "provisional" in page


def test_the_page_says_when_there_are_too_few_games(browse, address, member, opponent):
    play_quick_game(member, opponent)
    assert "With 1 game it is too early to say" in browse(member).get(address).content.decode()


def test_the_page_measures_the_forecasts_once_there_are_games_enough(browse, address, member, opponent):
    for number in range(30):
        play_quick_game(member, opponent, on=date(2026, 1 + number // 10, 1 + number % 10))
    page = browse(member).get(address).content.decode()
    assert "Log loss" in page
    assert "too early to say" not in page


def test_an_empty_club_is_told_what_begins_it(browse, address, member):
    assert "Nobody is rated yet" in browse(member).get(address).content.decode()


def test_a_file_has_rating_and_deviation_in_columns_of_their_own(browse, address, member, opponent):
    play_quick_game(member, opponent)
    head, first, _second = browse(member).get(f"{address}?format=csv").content.decode().splitlines()
    assert head == '"Place","Name","Rating","Deviation","Games","Last change","Last played"'
    assert re.fullmatch(r'"provisional","Brannoc","1662","\d+","1","162","2026-03"', first)


def test_a_stranger_reads_only_the_names_of_those_who_allow_it(browse, address, club, member, opponent):
    club.is_public = True
    club.save(update_fields=["is_public"])
    member.shows_page = True
    member.save(update_fields=["shows_page"])
    play_quick_game(member, opponent)
    page = browse(None).get(address).content.decode()
    assert "Brannoc" in page
    assert "Ceriden" not in page


@pytest.mark.parametrize("games", [1, 3])
def test_the_page_takes_the_same_queries_however_many_games(
    browse, address, member, opponent, games, django_assert_num_queries
):
    for _each in range(games):
        play_quick_game(member, opponent)
    client = browse(member)
    # session, user, club, member; four for the games; the members
    with django_assert_num_queries(9):
        client.get(address)


# --- a member's curve ---------------------------------------------------------------------------


def test_the_players_page_draws_the_curve_with_words_and_figures(browse, club, member, opponent):
    play_quick_game(member, opponent, on=MARCH)
    page = browse(opponent).get(f"/clubs/{club.slug}/players/{member.pk}/").content.decode()
    assert '<title id="rating-title">Rating of Brannoc</title>' in page
    assert "From 1662 in March 2026" in page
    assert '<td class="num">1662</td>' in page


def test_a_name_with_markup_in_it_is_only_text_in_the_drawing(browse, club, member, opponent):
    member.name = "<script>alert(1)</script>"
    member.save(update_fields=["name"])
    play_quick_game(member, opponent)
    page = browse(opponent).get(f"/clubs/{club.slug}/players/{member.pk}/").content.decode()
    assert "<script>alert" not in page


def test_a_stranger_who_may_not_see_results_sees_no_curve(browse, club, member, opponent):
    club.is_public = True
    club.save(update_fields=["is_public"])
    member.shows_page = True
    member.save(update_fields=["shows_page"])
    play_quick_game(member, opponent)
    assert "<svg" not in browse(None).get(f"/clubs/{club.slug}/players/{member.pk}/").content.decode()


# --- the API ---------------------------------------------------------------------------------------


def test_the_api_gives_the_same_ratings(call, club, member, opponent):
    play_quick_game(member, opponent)
    body = call(member).get(f"/api/v1/clubs/{club.slug}/ratings/").json()
    assert [(one["name"], round(one["rating"]), one["rank"]) for one in body["ratings"]] == [
        ("Brannoc", 1662, None),
        ("Ceriden", 1338, None),
    ]


def test_the_api_gives_a_members_curve(call, club, member, opponent):
    play_quick_game(member, opponent, on=MARCH)
    body = call(opponent).get(f"/api/v1/clubs/{club.slug}/ratings/{member.pk}/").json()
    assert body["member"] == member.pk
    assert (body["curve"][0]["month"], round(body["curve"][0]["rating"])) == ("2026-03-01", 1662)


def test_the_api_knows_no_curve_of_another_clubs_member(call, club, member, outsider):
    assert call(member).get(f"/api/v1/clubs/{club.slug}/ratings/{outsider.pk}/").status_code == 404
