from __future__ import annotations

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from league.battles.services.reports import ReportClaim, SideClaim, correct_report
from league.campaigns.models import Deadline, Fact
from league.campaigns.queries.corrections import corrections_of
from league.engines import war
from tests.campaigns.play import LEADS, begin


@pytest.fixture
def played(club, umpire, member, opponent):
    return begin(club, umpire=umpire, commons=member, wardens=opponent)


@pytest.fixture
def at(played):
    return lambda rest="": f"/clubs/{played.campaign.club.slug}/campaigns/{played.campaign.pk}/desk/{rest}"


@pytest.fixture
def desk(browse, umpire):
    return browse(umpire)


def turned_round(played, report):
    sides = [
        SideClaim(
            position=side.position,
            score=10 if LEADS[played.campaign.enlisted.get(roster=side.roster).force] == "commons" else 0,
        )
        for side in report.game.sides.order_by("position")
    ]
    claim = ReportClaim(fought_on=timezone.localdate(), sides=sides, is_full=True)
    correct_report(report, claim=claim, reason="Mixed up.", submission=uuid.uuid4(), by=played.umpire)


@pytest.mark.parametrize("rest", ["", "reveal/", "close/", "rulings/new/", "outlook/", "deadline/"])
def test_the_desk_is_the_umpires_alone(rest, at, browse, played, member, organiser):
    for who in (member, organiser):
        assert browse(who).get(at(rest)).status_code == 403


def test_the_desk_says_who_has_given_orders(desk, at, played):
    played.orders("commons", war.Hold(force="pikes"))
    page = desk.get(at()).content.decode()
    assert page.count("given") >= 1 and page.count("awaited") >= 1


def test_a_turn_is_a_look_and_a_click(desk, at, played):
    desk.post(at("reveal/"))
    desk.post(at("close/"))
    assert played.war().turn == 2


def test_a_deadline_is_set_and_what_is_due_is_revealed_by_any_member(desk, at, browse, played, quartermaster):
    soon = timezone.localtime() + timedelta(days=1)
    sent = {"due_at_0": soon.date().isoformat(), "due_at_1": "19:00"}
    assert desk.post(at("deadline/"), sent).status_code == 302
    Deadline.objects.update(due_at=timezone.now() - timedelta(minutes=1))
    browse(quartermaster).post(at().replace("desk/", "reveal-due/"))
    assert played.war().now.phase == "battles"


def test_a_deadline_that_has_passed_is_refused(desk, at, played):
    sent = {"due_at_0": "2020-01-01", "due_at_1": "19:00"}
    answer = desk.post(at("deadline/"), sent)
    assert answer.status_code == 422 and "past" in answer.content.decode()


def test_dice_are_typed_or_drawn(desk, at, played):
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    played.orders("wardens", war.Move(force="lancers", roads=("toll",)))
    assert desk.post(at("dice/0/"), {"results": "99"}).status_code == 422
    assert desk.post(at("dice/0/"), {"results": "2"}).status_code == 302
    assert played.war().now.rolls_needed == ()


def test_a_battle_nobody_could_play_is_shown_before_it_is_accepted(desk, at, played):
    battle = played.meet()
    page = desk.get(at(f"battles/{battle.id}/reckon/"))
    assert "nine times in ten" in page.content.decode()
    seen = page.context["form"]["seen"].value()
    assert desk.post(at(f"battles/{battle.id}/reckon/"), {"seen": seen}).status_code == 302
    assert played.battle().outcome.source == "simulated"


def test_a_battle_is_conceded_put_off_or_told(desk, at, played):
    battle = played.meet()
    desk.post(at(f"battles/{battle.id}/concede/"), {"winner": "commons", "reason": "Illness."})
    assert played.battle().outcome.source == "conceded"
    desk.post(at(f"battles/{battle.id}/put-off/"), {"reason": "They came."})
    assert played.battle().outcome is None
    unit = played.units("lancers")[0]
    sent = {"winner": "commons", f"lost-{unit.pk}": "3", "reason": "At home."}
    assert desk.post(at(f"battles/{battle.id}/tell/"), sent).status_code == 302
    assert played.battle().outcome.winner == "commons"


def test_a_game_that_was_cancelled_is_planned_again(desk, at, played, member):
    from league.battles.services.games import cancel_game

    battle = played.meet()
    cancel_game(played.game(battle), by=member)
    sent = {"on": (timezone.localdate() + timedelta(days=3)).isoformat(), "night": "", "scenario": ""}
    assert desk.post(at(f"battles/{battle.id}/book/"), sent).status_code == 302
    assert played.game(battle).cancelled_at is None


def test_a_ruling_lists_everything_that_is_wrong_with_it(desk, at, played):
    sent = {
        "submission": str(uuid.uuid4()),
        "reason": "",
        "what-0": "depot",
        "region-0": "gate",
        "faction-0": "",
        "what-1": "points",
    }
    answer = desk.post(at("rulings/new/"), sent)
    assert answer.status_code == 422
    assert not Fact.objects.filter(kind="ruling").exists()


def test_a_ruling_is_carried_out(desk, at, played):
    sent = {
        "submission": str(uuid.uuid4()),
        "reason": "Agreed.",
        "what-0": "control",
        "region-0": "isle",
        "faction-0": "commons",
        "what-1": "stock",
        "region-1": "arrel",
        "faction-1": "commons",
        "number-1": "5",
    }
    assert desk.post(at("rulings/new/"), sent).status_code == 302
    assert played.war().now.control["isle"] == "commons"


def test_a_corrected_report_is_shown_with_what_it_would_change_and_accepted(desk, at, played):
    battle = played.meet()
    report = played.report(played.game(battle), winner="wardens")
    played.close()
    turned_round(played, report)
    [found] = corrections_of(played.war())
    page = desk.get(at(f"corrections/{found.fact.pk}/"))
    assert "Who holds Sedge Crossing" in page.content.decode()
    seen = page.context["form"]["seen"].value()
    assert desk.post(at(f"corrections/{found.fact.pk}/"), {"seen": seen}).status_code == 302
    assert played.war().now.control["sedge"] == "commons"


def test_or_it_is_settled(desk, at, played):
    battle = played.meet()
    report = played.report(played.game(battle), winner="wardens")
    played.close()
    turned_round(played, report)
    [found] = corrections_of(played.war())
    sent = {"submission": str(uuid.uuid4()), "reason": "Let it be.", "what-0": "points", "faction-0": "commons"}
    answer = desk.post(at(f"corrections/{found.fact.pk}/settle/"), {**sent, "number-0": "3"})
    assert answer.status_code == 302
    assert corrections_of(played.war()) == []


def test_how_the_war_may_end_is_played_on(desk, at, played):
    page = desk.get(at("outlook/")).content.decode()
    assert "Commons of Arrel" in page and "%" in page
