from __future__ import annotations

import uuid
from datetime import date

import pytest

from league.battles.models import Game
from league.battles.services.reports import (
    ReportClaim,
    SideClaim,
    correct_report,
    dispute_report,
    file_report,
    settle_report,
)
from league.clubs.models import LogEntry
from league.errors import NotYoursToDo
from league.seasons.models import Adjustment, Pairing, Season
from league.seasons.queries import explain_cell, standings
from league.seasons.services.adjustments import adjust
from league.seasons.services.entrants import change_entrant, enter, enter_each, readmit, withdraw
from league.seasons.services.games import PairingSettled
from league.seasons.services.marks import mark_unplayed
from league.seasons.services.pairings import PairingPlan, pair, pair_many, unpair
from league.seasons.services.rounds import add_round, open_play
from league.seasons.services.seasons import (
    SeasonClosed,
    SeasonRefused,
    change_rules,
    close_season,
    create_season,
)
from tests import factories
from tests.seasons.conftest import RULES


def words(refusal) -> list[str]:
    return [each.message for each in refusal.value.violations]


def points(season, **when) -> dict[str, int]:
    return {row.name: row.points_x2 for row in standings(season, **when).rows}


@pytest.fixture
def first_round(season, organiser):
    return add_round(season, on=date(2026, 1, 22), by=organiser)


@pytest.fixture
def meet(organiser):
    def act(in_round, *entrants, **facts):
        return pair(
            in_round,
            entrant_ids=[entrant.pk for entrant in entrants],
            **{"submission": uuid.uuid4(), "by": organiser, **facts},
        )

    return act


def report(pairing, first: int, second: int, by, on=date(2026, 1, 22)):
    """The result of a game of two, as its filer tells it."""
    claim = ReportClaim(fought_on=on, sides=[SideClaim(position=1, score=first), SideClaim(position=2, score=second)])
    return file_report(pairing.game, claim=claim, submission=uuid.uuid4(), by=by)


# --- making a season ----------------------------------------------------------------


def test_a_season_with_everything_wrong_says_all_of_it(club, season, organiser, other_club):
    foreign = factories.EditionFactory(ruleset__club=other_club).ruleset
    with pytest.raises(SeasonRefused) as refusal:
        create_season(
            club,
            ruleset=foreign,
            name="Spring",
            starts_on=date(2026, 5, 1),
            ends_on=date(2026, 4, 1),
            rules={"scheme": {"win_x2": 6, "draw_x2": 2}, "tie_breaks": [{"name": "bribes"}]},
            submission=uuid.uuid4(),
            by=organiser,
        )
    assert [each.field for each in refusal.value.violations] == [
        "name",
        "ends_on",
        "ruleset",
        "rules.scheme",
        "rules.tie_breaks.0.name",
    ]


def test_the_same_season_sent_twice_is_one(club, ruleset, organiser):
    facts = {
        "ruleset": ruleset,
        "name": "Summer",
        "starts_on": date(2026, 6, 1),
        "rules": RULES,
        "submission": uuid.uuid4(),
        "by": organiser,
    }
    assert create_season(club, **facts) == create_season(club, **facts)
    assert Season.objects.count() == 1


def test_only_organisers_make_seasons(club, ruleset, member):
    with pytest.raises(NotYoursToDo):
        create_season(
            club,
            ruleset=ruleset,
            name="Mine",
            starts_on=date(2026, 6, 1),
            rules=RULES,
            submission=uuid.uuid4(),
            by=member,
        )


def test_changed_rules_change_the_table_and_the_book_says_why(season, cast, first_round, meet, organiser, member):
    report(meet(first_round, cast["Brannoc"], cast["Ceriden"]), 9, 4, by=member)
    change_rules(
        season, rules={"scheme": {"win_x2": 4, "draw_x2": 2, "loss_x2": 1}}, reason="Too far apart", by=organiser
    )
    season.refresh_from_db()
    assert points(season)["Brannoc"] == 4
    line = LogEntry.objects.get(act="season_rules_changed")
    assert line.details["reason"] == "Too far apart"
    assert line.details["before"]["scheme"]["win_x2"] == 6


def test_rules_do_not_change_without_a_reason(season, organiser):
    with pytest.raises(SeasonRefused, match="Say why"):
        change_rules(season, rules=RULES, reason=" ", by=organiser)


def test_a_closed_season_lets_nobody_in(season, member, organiser):
    close_season(season, by=organiser)
    with pytest.raises(SeasonClosed):
        enter(season, member_ids=[member.pk], by=organiser)


# --- who takes part ----------------------------------------------------------------


def test_a_player_enters_under_their_own_name_and_a_team_under_its(season, member, opponent, guest, organiser):
    alone = enter(season, member_ids=[member.pk], by=organiser)
    team = enter(season, name="The Eels", member_ids=[opponent.pk, guest.pk], by=organiser)
    assert (alone.name, alone.key, team.name, team.key) == ("Brannoc", "brannoc", "The Eels", "the-eels")


def test_nobody_enters_twice_nor_from_outside(season, member, outsider, organiser):
    enter(season, member_ids=[member.pk], by=organiser)
    with pytest.raises(SeasonRefused) as refusal:
        enter(season, name="Brannoc", member_ids=[member.pk, outsider.pk, outsider.pk], by=organiser)
    assert words(refusal) == [
        "An entrant called Brannoc is in the season already; give the team another name.",
        "Somebody is named twice.",
        "Somebody named is not in the club.",
        "Brannoc already plays for Brannoc.",
    ]


def test_many_enter_or_none(season, member, opponent, organiser):
    enter(season, member_ids=[member.pk], by=organiser)
    with pytest.raises(SeasonRefused):
        enter_each(season, member_ids=[opponent.pk, member.pk], by=organiser)
    assert season.entrants.count() == 1


def test_a_team_changes_who_plays(season, member, opponent, guest, organiser):
    team = enter(season, name="The Eels", member_ids=[member.pk, opponent.pk], by=organiser)
    change_entrant(team, name="The Herons", member_ids=[opponent.pk, guest.pk], by=organiser)
    assert {player.member.name for player in team.players.all()} == {"Ceriden", "Gorran"}


def test_who_leaves_is_still_in_the_table_before_it(season, cast, first_round, meet, organiser, member):
    rules = {**RULES, "leavers": "annul"}
    change_rules(season, rules=rules, reason="So agreed", by=organiser)
    report(meet(first_round, cast["Brannoc"], cast["Ceriden"]), 9, 4, by=member)
    withdraw(cast["Ceriden"], reason="Moved to Overbrune", by=organiser)
    season.refresh_from_db()
    assert "Ceriden" not in points(season)
    assert points(season)["Brannoc"] == 0
    assert points(season, through_round=0) == {"Brannoc": 0, "Ceriden": 0, "Gorran": 0, "Ulmar": 0}


def test_who_left_can_be_let_back_in(season, cast, organiser):
    withdraw(cast["Ceriden"], reason="Ill", by=organiser)
    back = readmit(cast["Ceriden"], by=organiser)
    assert (back.left_at, back.left_reason) == (None, "")


def test_leaving_needs_a_reason(cast, organiser):
    with pytest.raises(SeasonRefused, match="Say why"):
        withdraw(cast["Ceriden"], reason="", by=organiser)


# --- pairing ---------------------------------------------------------------------------


def test_a_pairing_plans_a_game_its_players_can_log(season, cast, first_round, meet, member):
    pairing = meet(first_round, cast["Brannoc"], cast["Ceriden"])
    assert pairing.game.on == date(2026, 1, 22)
    report(pairing, 9, 4, by=member)
    assert points(season) == {"Brannoc": 6, "Ceriden": 0, "Gorran": 0, "Ulmar": 0}


def test_teams_meet_with_all_their_players(season, first_round, meet, member, opponent, guest, umpire, organiser):
    eels = enter(season, name="Eels", member_ids=[member.pk, opponent.pk], by=organiser)
    herons = enter(season, name="Herons", member_ids=[guest.pk, umpire.pk], by=organiser)
    game = meet(first_round, eels, herons).game
    assert [
        sorted(player.member.name for player in side.players.all()) for side in game.sides.order_by("position")
    ] == [["Brannoc", "Ceriden"], ["Gorran", "Ulmar"]]


def test_three_can_meet_in_one_game(cast, first_round, meet):
    pairing = meet(first_round, cast["Brannoc"], cast["Ceriden"], cast["Gorran"])
    assert pairing.game.sides.count() == 3


def test_a_bye_counts_at_once_and_has_no_game(season, cast, first_round, meet):
    assert meet(first_round, cast["Gorran"]).game is None
    assert points(season)["Gorran"] == 6


def test_a_pairing_with_everything_wrong_says_all_of_it(season, cast, first_round, meet, organiser):
    meet(first_round, cast["Brannoc"], cast["Ceriden"])
    withdraw(cast["Gorran"], reason="Ill", by=organiser)
    with pytest.raises(SeasonRefused) as refusal:
        meet(first_round, cast["Brannoc"], cast["Gorran"], cast["Ulmar"], cast["Ulmar"])
    assert words(refusal) == [
        "Ulmar cannot meet themselves.",
        "Gorran has left the season.",
        "Brannoc is paired in this round already.",
    ]


def test_an_unknown_scenario_is_refused(cast, first_round, meet):
    with pytest.raises(SeasonRefused, match="no such scenario"):
        meet(first_round, cast["Brannoc"], cast["Ceriden"], scenario="moon_landing")


def test_another_clubs_table_is_refused(cast, first_round, meet, other_club):
    table = factories.TableFactory(venue__club=other_club)
    with pytest.raises(SeasonRefused, match="not one of the club's"):
        meet(first_round, cast["Brannoc"], cast["Ceriden"], table=table)


def test_the_same_pairing_sent_twice_is_one(cast, first_round, meet):
    name = uuid.uuid4()
    again = [meet(first_round, cast["Brannoc"], cast["Ceriden"], submission=name) for _ in range(2)]
    assert again[0] == again[1]
    assert (Pairing.objects.count(), Game.objects.count()) == (1, 1)


def test_several_pairings_are_made_or_none(cast, first_round, organiser):
    plans = [
        PairingPlan(entrant_ids=[cast["Brannoc"].pk, cast["Ceriden"].pk]),
        PairingPlan(entrant_ids=[cast["Gorran"].pk, cast["Ceriden"].pk]),
        PairingPlan(entrant_ids=[]),
    ]
    with pytest.raises(SeasonRefused) as refusal:
        pair_many(first_round, plans=plans, submission=uuid.uuid4(), by=organiser)
    assert [each.field for each in refusal.value.violations] == ["plans.1.entrant_ids", "plans.2.entrant_ids"]
    assert Pairing.objects.count() == 0


def test_in_open_play_the_same_two_meet_again(season, cast, meet, organiser, member):
    anywhere = open_play(season, by=organiser)
    for scores in [(9, 4), (7, 3)]:
        report(meet(anywhere, cast["Brannoc"], cast["Ceriden"]), *scores, by=member)
    assert points(season, through_round=0)["Brannoc"] == 12


def test_a_pairing_taken_back_frees_its_players_and_cancels_the_game(cast, first_round, meet, organiser):
    pairing = meet(first_round, cast["Brannoc"], cast["Ceriden"])
    unpair(pairing, by=organiser)
    assert Game.objects.get(pk=pairing.game_id).cancelled_at is not None
    meet(first_round, cast["Brannoc"], cast["Gorran"])


def test_a_reported_pairing_is_not_taken_back(cast, first_round, meet, organiser, member):
    pairing = meet(first_round, cast["Brannoc"], cast["Ceriden"])
    report(pairing, 9, 4, by=member)
    with pytest.raises(PairingSettled):
        unpair(pairing, by=organiser)


def test_a_forfeit_counts_and_cancels_the_game(season, cast, first_round, meet, organiser):
    pairing = meet(first_round, cast["Brannoc"], cast["Ceriden"])
    marks = {cast["Brannoc"].pk: "forfeit_win", cast["Ceriden"].pk: "forfeit_loss"}
    mark_unplayed(pairing, seats=marks, by=organiser)
    assert Game.objects.get().cancelled_at is not None
    assert points(season)["Brannoc"] == 6


def test_a_forfeit_taken_back_plans_the_game_anew(cast, first_round, meet, organiser, member):
    pairing = meet(first_round, cast["Brannoc"], cast["Ceriden"])
    marks = {cast["Brannoc"].pk: "forfeit_win", cast["Ceriden"].pk: "forfeit_loss"}
    mark_unplayed(pairing, seats=marks, by=organiser)
    pairing.refresh_from_db()
    mark_unplayed(pairing, seats=dict.fromkeys(marks, ""), by=organiser)
    pairing.refresh_from_db()
    report(pairing, 3, 5, by=member)


def test_when_one_of_three_stays_away_the_others_play_on(season, cast, first_round, meet, organiser, member):
    pairing = meet(first_round, cast["Brannoc"], cast["Ceriden"], cast["Gorran"])
    mark_unplayed(pairing, seats={cast["Ceriden"].pk: "forfeit_loss"}, by=organiser)
    pairing.refresh_from_db()
    report(pairing, 9, 4, by=member)
    assert {(row.name, row.played, row.unplayed) for row in standings(season).rows} == {
        ("Brannoc", 1, 0),
        ("Gorran", 1, 0),
        ("Ceriden", 0, 1),
        ("Ulmar", 0, 0),
    }


@pytest.mark.parametrize(
    ("marks", "complaint"),
    [
        (("forfeit_win", "forfeit_win"), "Both cannot win by forfeit."),
        (("", "forfeit_loss"), "Who is left without an opponent wins by forfeit: say so."),
        (("bye", "forfeit_loss"), "This cannot be said of them here."),
    ],
)
def test_marks_that_cannot_be_are_refused(cast, first_round, meet, organiser, marks, complaint):
    pairing = meet(first_round, cast["Brannoc"], cast["Ceriden"])
    seats = dict(zip([cast["Brannoc"].pk, cast["Ceriden"].pk], marks, strict=True))
    with pytest.raises(SeasonRefused) as refusal:
        mark_unplayed(pairing, seats=seats, by=organiser)
    assert complaint in words(refusal)


# --- reports and the table -----------------------------------------------------------


def test_a_correction_of_an_old_report_mends_the_table(season, cast, first_round, meet, organiser, member):
    old = report(meet(first_round, cast["Brannoc"], cast["Ceriden"]), 9, 4, by=member)
    later = add_round(season, on=date(2026, 2, 5), by=organiser)
    report(meet(later, cast["Brannoc"], cast["Gorran"]), 6, 5, by=member, on=date(2026, 2, 5))
    claim = ReportClaim(
        fought_on=date(2026, 1, 22), sides=[SideClaim(position=1, score=4), SideClaim(position=2, score=9)]
    )
    correct_report(old, claim=claim, reason="The scores were swapped", submission=uuid.uuid4(), by=member)
    assert points(season) == {"Brannoc": 6, "Ceriden": 6, "Gorran": 0, "Ulmar": 0}
    assert points(season, through_round=1) == {"Ceriden": 6, "Brannoc": 0, "Gorran": 0, "Ulmar": 0}


def test_a_disputed_result_is_left_out_until_the_umpire_settles_it(
    season, cast, first_round, meet, member, opponent, umpire
):
    filed = report(meet(first_round, cast["Brannoc"], cast["Ceriden"]), 9, 4, by=member)
    dispute_report(filed, text="The flag was mine", by=opponent)
    assert points(season)["Brannoc"] == 0
    assert standings(season).remarks["brannoc"].disputed == 1
    settle_report(filed, verdict="stands", text="I saw it", by=umpire)
    assert points(season)["Brannoc"] == 6


def test_an_unconfirmed_result_is_remarked_on(season, cast, first_round, meet, member):
    report(meet(first_round, cast["Brannoc"], cast["Ceriden"]), 9, 4, by=member)
    assert standings(season).remarks["ceriden"].awaiting_counted == 1


def test_a_season_may_wait_for_the_opponent(season, cast, first_round, meet, member, organiser):
    change_rules(season, rules={**RULES, "counts": "confirmed"}, reason="So agreed", by=organiser)
    season.refresh_from_db()
    report(meet(first_round, cast["Brannoc"], cast["Ceriden"]), 9, 4, by=member)
    assert points(season)["Brannoc"] == 0
    assert standings(season).remarks["brannoc"].awaiting_left_out == 1


def test_a_struck_out_report_can_become_a_forfeit(season, cast, first_round, meet, member, opponent, umpire, organiser):
    pairing = meet(first_round, cast["Brannoc"], cast["Ceriden"])
    filed = report(pairing, 9, 4, by=member)
    dispute_report(filed, text="We never played", by=opponent)
    settle_report(filed, verdict="void", text="They did not", by=umpire)
    marks = {cast["Brannoc"].pk: "forfeit_loss", cast["Ceriden"].pk: "forfeit_win"}
    mark_unplayed(pairing, seats=marks, by=organiser)
    assert points(season)["Ceriden"] == 6


def test_looking_back_by_day_sees_the_table_of_that_day(season, cast, first_round, meet, member):
    report(meet(first_round, cast["Brannoc"], cast["Ceriden"]), 9, 4, by=member)
    assert points(season, through_date=date(2026, 1, 21))["Brannoc"] == 0
    assert points(season, through_date=date(2026, 1, 22))["Brannoc"] == 6


# --- adjustments and reasons -----------------------------------------------------------


def test_adjusted_points_count_and_their_reason_can_be_read(season, cast, first_round, organiser):
    adjust(season, entrant=cast["Brannoc"], points_x2=-3, reason="Came late", submission=uuid.uuid4(), by=organiser)
    reasons = explain_cell(standings(season), entrant="brannoc", column="points").reasons
    assert [(each.kind, each.contribution, each.note) for each in reasons] == [("adjustment", -3, "Came late")]


def test_the_same_adjustment_sent_twice_counts_once(season, cast, organiser):
    facts = {"entrant": cast["Brannoc"], "points_x2": 2, "reason": "Painted", "submission": uuid.uuid4()}
    adjust(season, **facts, by=organiser)
    adjust(season, **facts, by=organiser)
    assert Adjustment.objects.count() == 1


def test_an_adjustment_with_everything_wrong_says_all_of_it(season, other_club, organiser):
    stranger = factories.EntrantFactory(season__club=other_club)
    with pytest.raises(SeasonRefused) as refusal:
        adjust(
            season,
            entrant=stranger,
            points_x2=0,
            reason="",
            after_round=7,
            submission=uuid.uuid4(),
            by=organiser,
        )
    assert [each.field for each in refusal.value.violations] == ["reason", "entrant", "points_x2", "after_round"]


@pytest.mark.parametrize(
    "column", ["played", "won", "drawn", "lost", "unplayed", "points", "score_for", "score_difference", "buchholz"]
)
def test_the_reasons_of_every_number_add_up_to_it(season, cast, first_round, meet, member, organiser, column):
    report(meet(first_round, cast["Brannoc"], cast["Ceriden"]), 9, 4, by=member)
    meet(first_round, cast["Gorran"])
    adjust(season, entrant=cast["Ceriden"], points_x2=1, reason="Painted", submission=uuid.uuid4(), by=organiser)
    reckoned = standings(season)
    for entrant in ["brannoc", "ceriden", "gorran", "ulmar"]:
        cell = explain_cell(reckoned, entrant=entrant, column=column)
        assert cell.total == cell.text


@pytest.mark.parametrize("act", ["enter", "round", "pair", "adjust", "close", "rules", "withdraw"])
def test_a_member_without_office_changes_nothing(season, cast, first_round, member, act):
    acts = {
        "enter": lambda: enter(season, member_ids=[member.pk], by=member),
        "round": lambda: add_round(season, by=member),
        "pair": lambda: pair(first_round, entrant_ids=[cast["Gorran"].pk], submission=uuid.uuid4(), by=member),
        "adjust": lambda: adjust(
            season, entrant=cast["Brannoc"], points_x2=2, reason="Me", submission=uuid.uuid4(), by=member
        ),
        "close": lambda: close_season(season, by=member),
        "rules": lambda: change_rules(season, rules=RULES, reason="Me", by=member),
        "withdraw": lambda: withdraw(cast["Ceriden"], reason="Me", by=member),
    }
    with pytest.raises(NotYoursToDo):
        acts[act]()
