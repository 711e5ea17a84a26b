"""Filing a report: what it brings about, and everything it is refused for."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.utils import timezone

from league.battles.models import Report
from league.battles.queries import results_of
from league.battles.queries.reports import state_of
from league.battles.services.games import GameUnderWay, cancel_game
from league.battles.services.reports import AlreadyFiled, ReportRefused, SideClaim, file_report
from league.clubs.services.submissions import SubmissionReused
from league.errors import NotYoursToDo
from league.rosters.queries import states_of


def strength_of(roster, name):
    return states_of(roster)[roster.units.get(name=name).pk].present


def reasons(refusal):
    return [(each.field, each.code) for each in refusal.value.violations]


def test_the_first_report_waits_for_the_opponent(report):
    assert state_of(report) == "awaiting"


def test_the_higher_score_wins(report):
    assert [(row.score, row.outcome) for row in report.results.order_by("side__position")] == [(5, "win"), (2, "loss")]


def test_a_score_within_the_scenarios_draw_margin_is_a_draw(file):
    # The ferry stage of the shipped ruleset draws at a difference of one.
    report = file(scores=(3, 2))
    assert {row.outcome for row in report.results.all()} == {"draw"}


def test_a_side_that_conceded_loses_whatever_the_score(file, claim, game, member):
    told = claim(scores=(5, 2))
    told = replace(told, sides=[replace(told.sides[0], conceded=True), told.sides[1]])
    report = file_report(game, claim=told, submission=uuid4(), by=member)
    assert [row.outcome for row in report.results.order_by("side__position")] == ["loss", "win"]


def test_objectives_come_to_the_score(game, claim, member):
    # 1 ferry stage of 3 points and 2 flags of 2 points, by the shipped ruleset.
    sides = [
        SideClaim(position=1, objectives={"stage": 1, "flags": 2}),
        SideClaim(position=2, objectives={"units": 4}),
    ]
    report = file_report(game, claim=claim(sides=sides), submission=uuid4(), by=member)
    assert [row.score for row in report.results.order_by("side__position")] == [7, 4]


def test_objectives_reach_the_standings_by_their_keys(game, claim, member):
    sides = [
        SideClaim(position=1, objectives={"stage": 1, "flags": 2}),
        SideClaim(position=2, objectives={"units": 4}),
    ]
    file_report(game, claim=claim(sides=sides), submission=uuid4(), by=member)
    first, second = results_of([game])[game.pk].sides
    assert (first.counts, first.objectives) == ({"flags": 2, "stage": 1}, 3)
    assert (second.counts, second.objectives) == ({"units": 4}, 4)


def test_a_destroyed_unit_is_worth_its_points_to_the_enemy(file, roster, lost):
    report = file(casualties=([lost(roster, "Towpath men", 6, destroyed=True), lost(roster, "First reeds", 2)], []))
    values = [(row.value_destroyed, row.value_lost) for row in report.results.order_by("side__position")]
    assert values == [(0, 30), (30, 0)]


def test_casualties_weaken_the_roster_at_once(report, roster):
    assert strength_of(roster, "First reeds") == 5


def test_a_report_on_a_game_without_rosters_needs_no_casualties(bare_game, claim, member):
    report = file_report(bare_game, claim=claim(), submission=uuid4(), by=member)
    assert [row.engagement for row in report.results.all()] == [None, None]


def test_a_planned_game_begins_with_its_report(plan, claim, member):
    game = plan()
    file_report(game, claim=claim(), submission=uuid4(), by=member)
    game.refresh_from_db()
    assert game.started_at is not None


def test_the_same_submission_is_one_report(game, claim, member):
    submission = uuid4()
    first = file_report(game, claim=claim(), submission=submission, by=member)
    assert file_report(game, claim=claim(), submission=submission, by=member) == first
    assert Report.objects.count() == 1


def test_the_same_submission_with_another_score_is_refused(game, claim, member):
    submission = uuid4()
    file_report(game, claim=claim(), submission=submission, by=member)
    with pytest.raises(SubmissionReused):
        file_report(game, claim=claim(scores=(6, 2)), submission=submission, by=member)


def test_a_second_first_report_is_refused_and_names_who_filed(report, game, claim, opponent):
    with pytest.raises(AlreadyFiled, match="Brannoc already filed a report of this game"):
        file_report(game, claim=claim(), submission=uuid4(), by=opponent)


def test_a_cancelled_game_takes_no_report(plan, claim, member):
    game = cancel_game(plan(), by=member)
    with pytest.raises(GameUnderWay):
        file_report(game, claim=claim(), submission=uuid4(), by=member)


def test_a_member_who_did_not_play_files_nothing(game, claim, quartermaster):
    with pytest.raises(NotYoursToDo):
        file_report(game, claim=claim(), submission=uuid4(), by=quartermaster)


@pytest.mark.parametrize("who", ["organiser", "umpire", "opponent"])
def test_organisers_umpires_and_the_other_player_may_file(who, request, game, claim):
    by = request.getfixturevalue(who)
    assert file_report(game, claim=claim(), submission=uuid4(), by=by).filed_by == by


def test_every_reason_is_told_at_once(file, roster, their_roster, lost):
    tomorrow = timezone.localdate() + timedelta(days=2)
    with pytest.raises(ReportRefused) as refusal:
        file(
            scores=(50, None),
            fought_on=tomorrow,
            rounds_played=99,
            casualties=(
                [lost(roster, "First reeds", 9), lost(roster, "Towpath men", 2, destroyed=True)],
                [lost(their_roster, "Toll riders", 5)],
            ),
        )
    assert reasons(refusal) == [
        ("fought_on", "in_the_future"),
        ("rounds_played", "too_many_rounds"),
        ("sides.0.score", "score_above_most"),
        ("sides.1.score", "missing_score"),
        ("sides.0.casualties.0", "more_lost_than_stood"),
        ("sides.0.casualties.1", "destroyed_with_survivors"),
        ("sides.1.casualties.0", "more_lost_than_stood"),
    ]


def test_a_refused_report_leaves_nothing_behind(file, roster, lost):
    with pytest.raises(ReportRefused):
        file(scores=(50, 2), casualties=([lost(roster, "First reeds", 3)], []))
    assert not Report.objects.exists()
    assert strength_of(roster, "First reeds") == 8


def test_a_unit_that_is_out_cannot_fall_again(plan, claim, member, roster, their_roster, lost, file):
    # The captain, a single figure, is carried off: 2 means out for two games by the table of leaders.
    from league.battles.services.dice import enter_rolls
    from league.rosters.models import Casualty

    report = file(casualties=([lost(roster, "The Weir captain", 1, destroyed=True)], []))
    enter_rolls(Casualty.objects.get(engagement__result__report=report), results=[2], by=member)
    with pytest.raises(ReportRefused, match="The Weir captain"):
        file_report(
            plan(), claim=claim(casualties=([lost(roster, "The Weir captain", 1)], [])), submission=uuid4(), by=member
        )


def test_casualties_of_a_side_without_roster_are_refused(bare_game, claim, member, roster, lost):
    with pytest.raises(ReportRefused) as refusal:
        file_report(
            bare_game, claim=claim(casualties=([lost(roster, "First reeds", 1)], [])), submission=uuid4(), by=member
        )
    assert reasons(refusal) == [("sides.0.casualties", "no_roster")]


def test_a_side_left_out_is_refused(game, claim, member):
    with pytest.raises(ReportRefused, match="Report every side"):
        file_report(game, claim=claim(sides=[SideClaim(position=1, score=5)]), submission=uuid4(), by=member)


def test_todays_report_is_no_report_of_the_future(file):
    assert file(fought_on=timezone.localdate()).fought_on == timezone.localdate()


@pytest.mark.parametrize("earlier", [1, 3])
def test_filing_takes_as_many_queries_after_one_game_as_after_three(
    earlier, plan, claim, member, roster, lost, django_assert_num_queries
):
    for _number in range(earlier):
        file_report(
            plan(), claim=claim(casualties=([lost(roster, "First reeds", 1)], [])), submission=uuid4(), by=member
        )
    game = plan(on=date(2026, 3, 20))
    told = claim(casualties=([lost(roster, "First reeds", 1)], []))
    with django_assert_num_queries(66):
        file_report(game, claim=told, submission=uuid4(), by=member)
