from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from league.campaigns.models import Fact, Story
from league.engines import war
from tests.campaigns.play import begin


@pytest.fixture
def played(club, umpire, member, opponent):
    return begin(club, umpire=umpire, commons=member, wardens=opponent)


def path(played, rest=""):
    return f"/clubs/{played.campaign.club.slug}/campaigns/{played.campaign.pk}/{rest}"


@pytest.fixture
def text(browse, played):
    def read(who, rest=""):
        answer = browse(who).get(path(played, rest))
        assert answer.status_code == 200, answer.status_code
        return answer.content.decode()

    return read


def test_the_list_leads_to_the_campaign(browse, played, member):
    answer = browse(member).get(f"/clubs/{played.campaign.club.slug}/campaigns/")
    assert path(played) in answer.content.decode()


def test_a_leader_sees_their_own_forces_and_not_the_enemys(text, played, member):
    page = text(member)
    assert "The pikes" in page and "The sappers" in page
    assert "The lancers" not in page


def test_the_umpire_sees_them_all(text, played, umpire):
    page = text(umpire)
    assert "The pikes" in page and "The lancers" in page


def test_a_club_mate_without_a_seat_sees_no_force_at_all(text, played, quartermaster):
    page = text(quartermaster)
    assert "The pikes" not in page and "Sedge Crossing" in page


def test_that_orders_are_given_is_known_but_not_which(text, played, opponent):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    page = text(opponent)
    assert "given" in page and "The pikes" not in page


def test_orders_are_given_by_form(browse, played, member):
    first = browse(member).get(path(played, "orders/"))
    form = first.context["form"]
    sent = {
        "submission": str(form["submission"].value()),
        "do-pikes": "dyke",
        "do-sappers": "dig_in",
        "first-pikes": "1",
        "first-sappers": "",
    }
    answer = browse(member).post(path(played, "orders/"), sent)
    assert answer.status_code == 302
    given = Fact.objects.get(kind="orders").data
    assert given["orders"] == [
        {"kind": "move", "force": "pikes", "roads": ["dyke"]},
        {"kind": "dig_in", "force": "sappers"},
    ]
    assert given["importance"] == ["pikes"]


def test_what_was_ordered_is_there_again_to_be_changed(text, played, member):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    page = text(member, "orders/")
    assert '<option value="dyke" selected>' in page


def test_refused_orders_keep_what_was_typed_and_say_all_that_is_wrong(browse, played, opponent):
    first = browse(opponent).get(path(played, "orders/"))
    sent = {
        "submission": str(first.context["form"]["submission"].value()),
        "do-lancers": "toll",
        "do-guard": "hold",
        "origin-0": "brune",
        "to-0": "gate",
        "amount-0": "999",
        "origin-1": "brune",
    }
    answer = browse(opponent).post(path(played, "orders/"), sent)
    assert answer.status_code == 422
    sent |= {"origin-1": ""}
    answer = browse(opponent).post(path(played, "orders/"), sent)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "999 loads" in page
    assert '<option value="toll" selected>' in page and 'value="999"' in page
    assert not Fact.objects.filter(kind="orders").exists()


def test_orders_are_nobody_elses_business(browse, played, opponent, umpire, quartermaster):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    assert "The pikes" not in browse(opponent).get(path(played, "orders/")).content.decode()
    for other in (umpire, quartermaster):
        assert browse(other).get(path(played, "orders/")).status_code == 403


def test_a_turn_is_told_in_sentences(text, played, member):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    played.orders("wardens")
    played.close()
    page = text(member, "turns/1/")
    assert "The pikes marches from The Mere to Sedge Crossing." in page
    assert "Commons of Arrel take Sedge Crossing." in page


def test_spectators_read_a_turn_late(browse, played, quartermaster):
    played.quiet_turn()
    assert browse(quartermaster).get(path(played, "turns/1/")).status_code == 200
    assert browse(quartermaster).get(path(played, "turns/2/")).status_code == 404


def test_supply_that_did_not_come_is_explained(text, played, member):
    played.quiet_turn()
    assert "The book of stocks" in text(member, "turns/1/")


def test_the_dice_page_keeps_a_seed_until_its_turn_is_over(text, played, member):
    played.meet()
    kept = played.campaign.secrets.get(turn=1).seed
    assert kept not in text(member, "dice/")
    played.close()
    assert kept in text(member, "dice/")


def test_lines_are_drawn_of_ones_own_alone(browse, played, member):
    played.quiet_turn()
    plots = {each.key: each for each in browse(member).get(path(played, "lines/")).context["plots"]}
    assert {each.name for each in plots["strength"].series} == {"Commons of Arrel"}
    assert {each.name for each in plots["territory"].series} == {"Commons of Arrel", "Wardens of Brune"}


def test_a_story_stands_beside_its_turn_until_it_is_taken_off(browse, played, member, text):
    played.quiet_turn()
    first = browse(member).get(path(played, "turns/1/stories/new/"))
    sent = {
        "submission": str(first.context["form"]["submission"].value()),
        "story_title": "Mud",
        "text": "Mud everywhere.",
    }
    assert browse(member).post(path(played, "turns/1/stories/new/"), sent).status_code == 302
    assert "Mud everywhere." in text(member, "turns/1/")
    story = Story.objects.get()
    browse(member).post(path(played, f"stories/{story.pk}/hide/"))
    assert "Mud everywhere." not in text(member, "turns/1/")


def test_the_feed_tells_closed_turns_as_spectators_may_know_them(browse, played, member):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    played.orders("wardens")
    played.close()
    answer = browse(member).get(path(played, "feed/"))
    feed = answer.content.decode()
    assert answer["Content-Type"].startswith("application/atom+xml")
    assert "Commons of Arrel take Sedge Crossing." in feed and "The pikes" not in feed


def test_a_campaign_with_public_pages_is_followed_by_anybody(browse, played, club):
    club.is_public = True
    club.save()
    assert browse(None).get(path(played)).status_code in (302, 404)
    played.campaign.is_public = True
    played.campaign.save()
    page = browse(None).get(path(played)).content.decode()
    assert "Sedge Crossing" in page and "The pikes" not in page and "Brannoc" not in page


@pytest.mark.parametrize(("rest", "queries"), [("", 11), ("turns/1/", 10), ("orders/", 8)])
def test_pages_ask_the_database_as_often_for_one_turn_as_for_three(rest, queries, browse, played, member):
    client, asked = browse(member), []
    for turns in (1, 2):
        for _ in range(turns):
            played.quiet_turn()
        with CaptureQueriesContext(connection) as found:
            client.get(path(played, rest))
        asked.append(len(found))
    assert asked == [queries, queries]
