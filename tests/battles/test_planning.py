"""Planning, changing, starting and cancelling a game, and naming its rosters afterwards."""

from __future__ import annotations

import hashlib
from datetime import date
from uuid import uuid4

import pytest

from league.battles.models import Game
from league.battles.queries import games_of, next_game
from league.battles.services.forces import name_rosters
from league.battles.services.games import (
    GameUnderWay,
    PlanRefused,
    SidePlan,
    cancel_game,
    change_game,
    start_game,
)
from league.battles.services.reports import file_report
from league.clubs.services.submissions import SubmissionReused
from league.errors import NotYoursToDo
from league.rosters.models import Snapshot
from tests import factories


@pytest.fixture
def codes(plan):
    """Why a plan with these facts is refused."""

    def refused(**facts):
        with pytest.raises(PlanRefused) as refusal:
            plan(**facts)
        return [(each.field, each.code) for each in refusal.value.violations]

    return refused


def test_the_hash_shown_at_once_is_the_seeds(plan):
    game = plan()
    assert hashlib.sha256(bytes.fromhex(game.seed)).hexdigest() == game.seed_hash


def test_a_plan_sent_twice_is_one_game(plan):
    submission = uuid4()
    assert plan(submission=submission) == plan(submission=submission)
    assert Game.objects.count() == 1


def test_a_submission_names_one_plan_only(plan):
    submission = uuid4()
    plan(submission=submission)
    with pytest.raises(SubmissionReused):
        plan(submission=submission, note="Another")


def test_somebody_of_another_club_plans_nothing(plan, outsider):
    with pytest.raises(NotYoursToDo):
        plan(by=outsider)


def test_everything_that_is_wrong_with_a_plan_is_told_at_once(codes, member, their_roster, outsider, other_club):
    night = factories.NightFactory(club=other_club)
    sides = [
        SidePlan(member_ids=[member.pk], role="pirate", roster_id=their_roster.pk),
        SidePlan(member_ids=[member.pk, outsider.pk]),
        SidePlan(member_ids=[]),
    ]
    assert codes(sides=sides, night=night, note="x" * 2001) == [
        ("note", "too_long"),
        ("night", "not_of_club"),
        ("sides.1.member_ids", "not_of_club"),
        ("sides.2.member_ids", "no_players"),
        ("sides", "plays_twice"),
        ("sides", "wrong_number_of_sides"),
        ("sides.0.role", "unknown_role"),
        ("sides.0.roster_id", "not_the_owners_side"),
    ]


def test_a_game_has_two_sides_or_more(codes, member):
    assert codes(scenario="", sides=[SidePlan(member_ids=[member.pk])]) == [("sides", "too_few_sides")]


def test_a_roster_of_another_ruleset_stays_at_home(codes, member, opponent, club):
    foreign = factories.RosterFactory(owner=member, ruleset=factories.RulesetFactory(club=club))
    sides = [SidePlan(member_ids=[member.pk], roster_id=foreign.pk), SidePlan(member_ids=[opponent.pk])]
    assert codes(sides=sides) == [("sides.0.roster_id", "other_rules")]


def test_a_night_is_on_the_day_of_the_game(codes, club):
    assert codes(night=factories.NightFactory(club=club, on=date(2026, 3, 26))) == [("on", "not_on_the_night")]


def test_a_table_stands_in_the_nights_venue(codes, club):
    night = factories.NightFactory(club=club)
    assert codes(night=night, table=factories.TableFactory(venue__club=club)) == [("table", "table_elsewhere")]


def test_starting_freezes_each_roster_once(plan, member):
    game = plan()
    start_game(game, by=member)
    start_game(game, by=member)
    assert Snapshot.objects.count() == 2


def test_a_cancelled_game_is_not_started(plan, member):
    with pytest.raises(GameUnderWay):
        start_game(cancel_game(plan(), by=member), by=member)


def test_a_game_with_a_report_is_not_cancelled(report, member):
    with pytest.raises(GameUnderWay, match="There is a report"):
        cancel_game(report.game, by=member)


def test_who_does_not_play_cancels_nothing(plan, quartermaster):
    with pytest.raises(NotYoursToDo):
        cancel_game(plan(), by=quartermaster)


def test_the_plan_of_a_begun_game_stays(game, member):
    with pytest.raises(GameUnderWay):
        change_game(game, scenario="", on=game.on, sides=[], by=member)


def test_who_plays_is_not_changed(plan, member, guest):
    sides = [SidePlan(member_ids=[member.pk]), SidePlan(member_ids=[guest.pk])]
    with pytest.raises(PlanRefused, match="Who plays cannot be changed"):
        change_game(plan(), scenario="ferry_stage", on=date(2026, 3, 26), sides=sides, by=member)


def test_a_roster_named_after_the_game_is_frozen_as_it_stands(bare_game, claim, member, roster):
    file_report(bare_game, claim=claim(), submission=uuid4(), by=member)
    name_rosters(bare_game, rosters={1: roster.pk}, by=member)
    side = bare_game.sides.get(position=1)
    assert (side.roster, side.snapshot.roster) == (roster, roster)


def test_a_named_roster_is_not_exchanged(game, member, roster):
    other = factories.RosterFactory(owner=member, ruleset=roster.ruleset)
    with pytest.raises(GameUnderWay):
        name_rosters(game, rosters={1: other.pk}, by=member)


def test_my_next_game_is_the_earliest_that_is_neither_reported_nor_past(plan, report, member):
    plan(on=date(2026, 4, 9))
    soon = plan(on=date(2026, 4, 2))
    cancel_game(plan(on=date(2026, 4, 1)), by=member)
    assert next_game(member, date(2026, 3, 19)).game_id == soon.pk


def test_my_games_are_those_i_play_in_the_latest_first(plan, member, quartermaster):
    early, late = plan(on=date(2026, 4, 2)), plan(on=date(2026, 4, 9))
    assert list(games_of(member)) == [late, early]
    assert list(games_of(quartermaster)) == []
