"""A player's page: whole for club mates, and for strangers only what the member allows."""

from __future__ import annotations

import pytest

from tests import factories
from tests.battle_play import play_quick_game

pytestmark = pytest.mark.django_db


@pytest.fixture
def public_club(club):
    club.is_public = True
    club.save(update_fields=["is_public"])
    return club


def page_of(member):
    return f"/clubs/{member.club.slug}/players/{member.pk}/"


def allow(member, **choices):
    for choice, value in choices.items():
        setattr(member, choice, value)
    member.save(update_fields=list(choices))


def test_a_club_mate_sees_the_record(browse, member, opponent):
    play_quick_game(member, opponent, scores=(12, 7))
    play_quick_game(opponent, member, scores=(9, 9))
    page = browse(opponent).get(page_of(member)).context["page"]
    assert (page.won, page.drawn, page.lost) == (1, 1, 0)


def test_the_score_is_told_from_the_players_own_side(browse, member, opponent):
    play_quick_game(opponent, member, scores=(3, 8))
    (result,) = browse(member).get(page_of(member)).context["page"].results
    assert (result.score, result.outcome, result.opponents) == ("8 – 3", "win", opponent.name)


def test_a_stranger_finds_no_page_of_a_member_who_allows_none(browse, public_club, member):
    assert browse(None).get(page_of(member)).status_code == 404


def test_a_stranger_sees_the_name_but_no_results_where_only_the_page_is_allowed(browse, public_club, member, opponent):
    allow(member, shows_page=True)
    play_quick_game(member, opponent)
    answer = browse(None).get(page_of(member))
    assert member.name in answer.content.decode()
    assert answer.context["page"].results is None


def test_a_stranger_who_may_see_results_does_not_learn_the_opponents_name(browse, public_club, member, opponent):
    allow(member, shows_page=True, shows_results=True)
    play_quick_game(member, opponent)
    page = browse(None).get(page_of(member)).content.decode()
    assert f"Player {opponent.pk}" in page
    assert opponent.name not in page


def test_a_stranger_sees_rosters_only_where_they_are_shown(browse, public_club, member):
    factories.RosterFactory(owner=member, name="The Reed Cutters", ruleset__club=public_club)
    allow(member, shows_page=True, shows_rosters=False)
    assert "The Reed Cutters" not in browse(None).get(page_of(member)).content.decode()


def test_a_juniors_page_stays_private_whatever_is_ticked(browse, public_club, member):
    allow(member, shows_page=True, shows_results=True, shows_rosters=True, is_junior=True)
    assert browse(None).get(page_of(member)).status_code == 404


def test_a_junior_in_one_club_stays_private_in_every_club(browse, public_club, member, other_club):
    allow(member, shows_page=True)
    factories.MemberFactory(club=other_club, user=member.user, is_junior=True)
    assert browse(None).get(page_of(member)).status_code == 404


def test_the_csv_of_a_page_without_results_is_empty_but_for_its_head(browse, public_club, member, opponent):
    allow(member, shows_page=True)
    play_quick_game(member, opponent)
    lines = browse(None).get(page_of(member) + "?format=csv").content.decode().splitlines()
    assert len(lines) == 1


@pytest.mark.parametrize("games", [1, 3])
def test_the_page_asks_the_same_number_of_questions_however_many_games(
    browse, member, opponent, games, django_assert_num_queries
):
    for _each in range(games):
        play_quick_game(member, opponent)
    client = browse(opponent)
    # session, user, club, member; the player; seven for the games; names; own name; seasons; rosters; four for the rating
    with django_assert_num_queries(20):
        client.get(page_of(member))


def test_the_desk_is_for_organisers_and_umpires(browse, organiser, umpire, member):
    answers = [browse(who).get(f"/clubs/{member.club.slug}/desk/").status_code for who in (organiser, umpire, member)]
    assert answers == [200, 200, 403]
