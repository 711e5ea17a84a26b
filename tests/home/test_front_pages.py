"""The front page and a club's own page: what a member finds first, and what a visitor sees of it."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from league.battles.services.reports import confirm_report
from tests import factories
from tests.battle_play import play_quick_game

pytestmark = pytest.mark.django_db


def test_a_member_of_one_club_is_taken_straight_to_it(browse, member):
    assert browse(member).get("/").headers["Location"] == "/clubs/weir-street/"


def test_a_member_of_two_clubs_chooses(browse, member, other_club):
    factories.MemberFactory(club=other_club, user=member.user)
    page = browse(member).get("/").content.decode()
    assert "Weir Street Irregulars" in page
    assert "Upper Lock Circle" in page


def test_a_visitor_is_offered_only_clubs_with_public_pages(browse, club, other_club):
    other_club.is_public = True
    other_club.save(update_fields=["is_public"])
    page = browse(None).get("/").content.decode()
    assert "Upper Lock Circle" in page
    assert "Weir Street Irregulars" not in page


def test_a_private_club_asks_a_visitor_to_sign_in(browse, club):
    assert browse(None).get("/clubs/weir-street/").headers["Location"].startswith("/account/login/")


def test_a_private_club_is_not_there_for_members_of_others(browse, club, outsider):
    assert browse(outsider).get("/clubs/weir-street/").status_code == 404


def test_the_club_page_offers_to_log_a_result_first(browse, member):
    page = browse(member).get("/clubs/weir-street/").content.decode()
    assert page.index("button-big") < page.index("My next game")


def test_my_next_game_is_the_nearest_one_to_come(browse, member, opponent):
    today = timezone.localdate()
    for days, name in ((9, "later"), (2, "sooner")):
        game = factories.GameFactory(club=member.club, on=today + timedelta(days=days), note=name)
        for position, player in enumerate((member, opponent), 1):
            factories.SidePlayerFactory(side=factories.SideFactory(game=game, position=position), member=player)
    page = browse(member).get("/clubs/weir-street/")
    assert page.context["board"].next_game.on == today + timedelta(days=2)


def test_a_report_waits_for_the_opponent_and_not_for_its_filer(browse, member, opponent):
    report = play_quick_game(member, opponent)
    waits_for = {
        who: browse(who).get("/clubs/weir-street/").context["board"].waiting.to_answer for who in (member, opponent)
    }
    assert [line.report_id for line in waits_for[opponent]] == [report.pk]
    assert waits_for[member] == ()


def test_a_confirmed_report_waits_for_nobody(browse, member, opponent):
    confirm_report(play_quick_game(member, opponent), by=opponent)
    assert not browse(opponent).get("/clubs/weir-street/").context["board"].waiting


@pytest.mark.parametrize("games", [1, 3])
def test_the_club_page_asks_the_same_number_of_questions_however_much_was_played(
    browse, member, opponent, games, django_assert_num_queries
):
    for _each in range(games):
        play_quick_game(member, opponent)
    client = browse(opponent)
    # session, user, club, member; seasons; night; next game; seven for the latest reports, seven for those to answer;
    # engagements that want dice
    with django_assert_num_queries(22):
        client.get("/clubs/weir-street/")


def test_a_visitor_sees_neither_games_nor_nights_of_a_public_club(browse, member, opponent):
    club = member.club
    club.is_public = True
    club.save(update_fields=["is_public"])
    factories.NightFactory(club=club, on=timezone.localdate() + timedelta(days=1), title="Secret evening")
    play_quick_game(member, opponent)
    page = browse(None).get("/clubs/weir-street/").content.decode()
    assert "Secret evening" not in page
    assert member.name not in page
