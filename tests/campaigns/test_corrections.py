from __future__ import annotations

import uuid
from dataclasses import replace

import pytest
from django.utils import timezone

from league.battles.services.games import GamePlan, SidePlan
from league.battles.services.reports import ReportClaim, SideClaim, correct_report, log_game, settle_report
from league.campaigns.models import Fact
from league.campaigns.queries.corrections import corrections_of
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused
from league.campaigns.services.corrections import accept_replay, settle
from league.engines import war
from league.rosters.services.records import CasualtyLine
from tests.campaigns.play import LEADS, begin


@pytest.fixture
def played(club, umpire, member, opponent):
    return begin(club, umpire=umpire, commons=member, wardens=opponent)


@pytest.fixture
def long_ago(played):
    """The Wardens won at the Sedge Crossing in turn 1; six quiet turns have gone by."""
    battle = played.meet()
    unit = played.units("pikes")[0]
    report = played.report(
        played.game(battle), winner="wardens", losses={"pikes": [CasualtyLine(unit_id=unit.pk, figures_lost=4)]}
    )
    played.close()
    for _ in range(6):
        played.quiet_turn()
    return report


def corrected(played, report, *, winner, losses):
    sides = []
    for side in report.game.sides.order_by("position"):
        force = played.campaign.enlisted.get(roster=side.roster).force
        score = 10 if LEADS[force] == winner else 0
        sides.append(SideClaim(position=side.position, score=score, casualties=losses.get(force, ())))
    claim = ReportClaim(fought_on=timezone.localdate(), sides=sides, is_full=True)
    return correct_report(report, claim=claim, reason="Sides mixed up.", submission=uuid.uuid4(), by=played.umpire)


def turned_round(played, report):
    """It was the Commons who won, and the lancers who bled."""
    unit = played.units("lancers")[0]
    losses = {"lancers": [CasualtyLine(unit_id=unit.pk, figures_lost=4)]}
    return corrected(played, report, winner="commons", losses=losses)


def only(played):
    [found] = corrections_of(played.war())
    return found


def test_a_report_as_it_was_booked_is_nothing_to_correct(played, long_ago):
    assert corrections_of(played.war()) == []


def test_a_report_corrected_six_turns_later_says_what_would_change_since(played, long_ago):
    turned_round(played, long_ago)
    found = only(played)
    told = {(each.what, each.key) for each in found.differences}
    assert ("control", "sedge") in told
    assert {("unit_present", "pikes"), ("unit_present", "lancers")} <= told
    assert {each.turn for each in found.differences} == set(range(1, 9))


def test_nothing_changes_until_the_umpire_says_so(played, long_ago):
    turned_round(played, long_ago)
    assert played.war().now.control["sedge"] == "wardens"


def test_once_accepted_the_war_and_the_rosters_agree_on_what_was_corrected(played, long_ago):
    turned_round(played, long_ago)
    accept_replay(played.campaign, outcome=only(played).fact.pk, seen=only(played).digest, by=played.umpire)
    assert played.war().now.control["sedge"] == "commons"
    assert corrections_of(played.war()) == []
    for force in LEADS:
        by_war, by_roster = played.strength(force)
        assert by_war == by_roster


def test_the_outcome_that_was_booked_stays_on_file(played, long_ago):
    turned_round(played, long_ago)
    before = only(played).fact
    made = accept_replay(played.campaign, outcome=before.pk, seen=only(played).digest, by=played.umpire)
    assert (made.supersedes_id, made.turn) == (before.pk, 1)
    assert Fact.objects.filter(pk=before.pk).exists()


def test_a_correction_looked_at_before_the_war_went_on_is_not_accepted(played, long_ago):
    turned_round(played, long_ago)
    stale = only(played)
    played.quiet_turn()
    with pytest.raises(CampaignMovedOn):
        accept_replay(played.campaign, outcome=stale.fact.pk, seen=stale.digest, by=played.umpire)


def test_two_umpires_accept_it_once(played, long_ago):
    turned_round(played, long_ago)
    found = only(played)
    accept_replay(played.campaign, outcome=found.fact.pk, seen=found.digest, by=played.umpire)
    with pytest.raises(CampaignMovedOn):
        accept_replay(played.campaign, outcome=found.fact.pk, seen=found.digest, by=played.umpire)


def test_a_settlement_lets_the_war_stand_and_changes_today_instead(played, long_ago):
    turned_round(played, long_ago)
    found = only(played)
    effects = [war.AwardPoints(faction="commons", points=7)]
    before = played.war().now.points["commons"]
    settle(
        played.campaign,
        outcome=found.fact.pk,
        seen=found.digest,
        reason="Too long ago.",
        effects=effects,
        submission=uuid.uuid4(),
        by=played.umpire,
    )
    now = played.war()
    assert now.now.control["sedge"] == "wardens"
    assert now.now.points["commons"] == before + 7
    assert corrections_of(now) == []


def test_a_settlement_has_a_reason(played, long_ago):
    turned_round(played, long_ago)
    found = only(played)
    with pytest.raises(CampaignRefused):
        settle(
            played.campaign,
            outcome=found.fact.pk,
            seen=found.digest,
            reason=" ",
            submission=uuid.uuid4(),
            by=played.umpire,
        )


def test_a_report_corrected_again_after_a_settlement_is_looked_at_again(played, long_ago):
    again = turned_round(played, long_ago)
    found = only(played)
    settle(
        played.campaign,
        outcome=found.fact.pk,
        seen=found.digest,
        reason="Too long ago.",
        submission=uuid.uuid4(),
        by=played.umpire,
    )
    corrected(played, again, winner="commons", losses={})
    assert len(corrections_of(played.war())) == 1


def test_a_report_struck_out_puts_the_battle_off(played, long_ago):
    settle_report(long_ago, verdict="void", text="It was another day's game.", by=played.umpire)
    found = only(played)
    accept_replay(played.campaign, outcome=found.fact.pk, seen=found.digest, by=played.umpire)
    now = played.war()
    assert "sedge" not in now.states[1].control
    for force in LEADS:
        by_war, by_roster = played.strength(force)
        assert by_war == by_roster


def test_a_correction_in_the_open_turn_needs_nobodys_word(played):
    battle = played.meet()
    report = played.report(played.game(battle), winner="wardens")
    turned_round(played, report)
    assert played.battle().outcome.winner == "commons"
    assert corrections_of(played.war()) == []


@pytest.fixture
def friendly(played, club):
    """A game of the pikes outside the war, in which one of them falls."""

    def fought(figures=1):
        roster, unit = played.roster("pikes"), played.units("pikes")[1]
        plan = GamePlan(
            edition=played.campaign.edition,
            on=timezone.localdate(),
            sides=[
                SidePlan(member_ids=[played.commons.pk], roster_id=roster.pk),
                SidePlan(member_ids=[played.wardens.pk]),
            ],
        )
        lines = [CasualtyLine(unit_id=unit.pk, figures_lost=figures)]
        claim = ReportClaim(
            fought_on=timezone.localdate(),
            sides=[SideClaim(position=1, score=3, casualties=lines), SideClaim(position=2, score=5)],
            is_full=True,
        )
        return log_game(club, plan=plan, claim=claim, submission=uuid.uuid4(), by=played.commons), claim

    return fought


def test_scars_of_a_battle_outside_the_war_come_along(played, friendly):
    friendly()
    played.quiet_turn()
    by_war, by_roster = played.strength("pikes")
    assert by_war == by_roster
    assert 9 in by_war.values()


def test_a_battle_outside_the_war_comes_along_once(played, friendly):
    friendly()
    played.quiet_turn()
    played.quiet_turn()
    assert Fact.objects.filter(kind="outside").count() == 1


def test_its_correction_is_a_matter_for_the_umpire_too(played, friendly):
    report, claim = friendly()
    played.quiet_turn()
    first, second = claim.sides
    better = replace(claim, sides=[replace(first, casualties=()), second])
    correct_report(report, claim=better, reason="Nobody fell.", submission=uuid.uuid4(), by=played.umpire)
    found = only(played)
    accept_replay(played.campaign, outcome=found.fact.pk, seen=found.digest, by=played.umpire)
    by_war, by_roster = played.strength("pikes")
    assert by_war == by_roster == {unit.pk: 10 for unit in played.units("pikes")}
