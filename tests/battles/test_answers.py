"""What follows a report: confirming, disputing, settling, correcting."""

from __future__ import annotations

from uuid import uuid4

import pytest

from league.battles.models import Answer, Report
from league.battles.queries import results_of
from league.battles.queries.reports import state_of
from league.battles.queries.versions import acts_of, versions_with_changes
from league.battles.services.answers import (
    AlreadyAnswered,
    ReportMovedOn,
    confirm_report,
    dispute_report,
    settle_report,
)
from league.battles.services.reports import ReportRefused, correct_report
from league.errors import NotYoursToDo, Refused
from league.rosters.queries import states_of
from tests import factories


@pytest.fixture
def correct(report, claim, member):
    """Correct the report in which Brannoc's first reeds lost three."""

    def corrected(*, by=member, reason="Two fell, not three", of=report, submission=None, **facts):
        return correct_report(of, claim=claim(**facts), reason=reason, submission=submission or uuid4(), by=by)

    return corrected


def present(roster, name):
    return states_of(roster)[roster.units.get(name=name).pk].present


def test_the_opponent_confirms(report, opponent):
    confirm_report(report, by=opponent)
    assert state_of(report) == "confirmed"


def test_confirming_twice_is_confirming_once(report, opponent):
    assert confirm_report(report, by=opponent) == confirm_report(report, by=opponent)
    assert Answer.objects.count() == 1


def test_the_filer_cannot_confirm_their_own_report(report, member):
    with pytest.raises(NotYoursToDo):
        confirm_report(report, by=member)


def test_any_player_answers_a_report_an_organiser_filed(file, organiser, member):
    report = file(by=organiser)
    confirm_report(report, by=member)
    assert state_of(report) == "confirmed"


@pytest.mark.parametrize("who", ["organiser", "umpire", "quartermaster"])
def test_who_did_not_play_answers_nothing(who, request, report):
    with pytest.raises(NotYoursToDo):
        confirm_report(report, by=request.getfixturevalue(who))


def test_a_dispute_says_what_is_wrong(report, opponent):
    dispute_report(report, text="It was 4 to 2.", by=opponent)
    assert state_of(report) == "disputed"


def test_a_dispute_without_words_is_refused(report, opponent):
    with pytest.raises(Refused, match="Say what is wrong"):
        dispute_report(report, text="  ", by=opponent)


def test_who_confirmed_cannot_dispute_afterwards(report, opponent):
    confirm_report(report, by=opponent)
    with pytest.raises(AlreadyAnswered):
        dispute_report(report, text="On second thoughts", by=opponent)


def test_a_disputed_report_leaves_the_roster_as_reported(report, opponent, roster):
    dispute_report(report, text="No.", by=opponent)
    assert present(roster, "First reeds") == 5


def test_an_umpire_lets_the_report_stand(report, opponent, umpire):
    dispute_report(report, text="No.", by=opponent)
    settle_report(report, verdict="stands", text="I watched it.", by=umpire)
    assert state_of(report) == "settled"


def test_a_report_struck_out_gives_the_roster_its_figures_back(report, umpire, roster):
    settle_report(report, verdict="void", text="The wrong table.", by=umpire)
    assert (state_of(report), present(roster, "First reeds")) == ("void", 8)


def test_an_umpire_gives_a_reason(report, umpire):
    with pytest.raises(Refused, match="Say why"):
        settle_report(report, verdict="void", text="", by=umpire)


def test_a_ruling_sent_twice_is_one(report, umpire):
    given = settle_report(report, verdict="void", text="The wrong table.", by=umpire)
    assert settle_report(report, verdict="void", text="The wrong table.", by=umpire) == given


def test_a_settled_report_is_not_settled_again(report, umpire):
    settle_report(report, verdict="stands", text="I watched it.", by=umpire)
    with pytest.raises(ReportMovedOn):
        settle_report(report, verdict="void", text="No, I did not.", by=umpire)


def test_an_umpire_does_not_settle_their_own_game(report, opponent, umpire):
    opponent.is_umpire = True
    opponent.save(update_fields=["is_umpire"])
    with pytest.raises(NotYoursToDo):
        settle_report(report, verdict="void", text="I won.", by=opponent)


def test_the_only_umpire_of_a_club_settles_even_their_own_game(report, opponent):
    opponent.is_umpire = True
    opponent.save(update_fields=["is_umpire"])
    settle_report(report, verdict="stands", text="There is nobody else.", by=opponent)
    assert state_of(report) == "settled"


def test_an_organiser_is_no_umpire(report, organiser):
    with pytest.raises(NotYoursToDo):
        settle_report(report, verdict="stands", text="Because.", by=organiser)


def test_a_correction_takes_the_place_of_the_report(correct, report, game):
    corrected = correct(scores=(6, 2))
    assert (state_of(report), state_of(corrected)) == ("superseded", "awaiting")
    assert results_of([game])[game.pk].report_id == corrected.pk


def test_a_correction_restores_what_the_report_had_taken(correct, roster):
    correct(casualties=([], []))
    assert present(roster, "First reeds") == 8


def test_a_correction_is_held_against_the_strength_before_the_battle(correct, roster, lost):
    """All eight may fall although five are left by the report that is corrected."""
    correct(casualties=([lost(roster, "First reeds", 8, destroyed=True)], []))
    assert present(roster, "First reeds") == 0


def test_a_corrected_report_keeps_its_place_among_the_rosters_battles(correct, report, plan, claim, member, roster):
    from league.battles.services.reports import file_report

    file_report(plan(), claim=claim(), submission=uuid4(), by=member)
    corrected = correct()
    places = [each.results.get(side__roster=roster).engagement.sequence for each in (report, corrected)]
    assert places[0] == places[1]


def test_the_earlier_text_stays_readable(correct, report, game):
    correct(scores=(6, 2), notes="A long evening.")
    latest, first = versions_with_changes(game)
    assert first.report == report
    assert [(each.what, each.before, each.after) for each in latest.changes] == [
        ("Notes", "", "A long evening."),
        ("Score, side 1", "5", "6"),
        ("First reeds", "3 figures lost", ""),
    ]


def test_a_correction_gives_a_reason_along_with_every_other_fault(correct):
    with pytest.raises(ReportRefused) as refusal:
        correct(reason=" ", scores=(99, 2))
    assert [each.field for each in refusal.value.violations] == ["reason", "sides.0.score"]


def test_the_same_correction_twice_is_one(correct):
    submission = uuid4()
    assert correct(submission=submission) == correct(submission=submission)
    assert Report.objects.count() == 2


def test_a_report_is_corrected_once(correct, opponent):
    correct()
    with pytest.raises(ReportMovedOn):
        correct(by=opponent)


def test_the_opponent_corrects_until_they_confirmed(correct, report, opponent):
    confirm_report(report, by=opponent)
    with pytest.raises(NotYoursToDo):
        correct(by=opponent)


def test_the_filer_may_add_details_to_a_confirmed_report_which_then_waits_again(correct, report, opponent, member):
    confirm_report(report, by=opponent)
    assert state_of(correct(by=member)) == "awaiting"


def test_after_the_umpires_word_only_umpires_and_organisers_correct(correct, report, umpire, member, organiser):
    settle_report(report, verdict="stands", text="I watched it.", by=umpire)
    with pytest.raises(NotYoursToDo):
        correct(by=member)
    assert correct(by=organiser).filed_by == organiser


def test_a_struck_out_report_can_be_replaced_by_the_umpire(correct, report, umpire, roster, lost):
    settle_report(report, verdict="void", text="The wrong table.", by=umpire)
    correct(by=umpire, casualties=([lost(roster, "First reeds", 1)], []))
    assert present(roster, "First reeds") == 7


def test_an_answer_to_a_corrected_report_comes_too_late(correct, report, opponent):
    correct()
    with pytest.raises(ReportMovedOn):
        confirm_report(report, by=opponent)


def test_the_book_says_who_did_what(correct, report, game, opponent):
    dispute_report(report, text="It was two.", by=opponent)
    correct(reason="Two fell")
    told = [(line.by, line.words) for line in acts_of(game)]
    assert told == [
        ("Brannoc", "planned the game"),
        ("Brannoc", "started the game"),
        ("Brannoc", "filed the report"),
        ("Ceriden", "disputed the report: It was two."),
        ("Brannoc", "corrected the report: Two fell"),
    ]


@pytest.mark.parametrize("count", [1, 3])
def test_results_are_read_in_four_queries_however_many_games(count, plan, claim, member, django_assert_num_queries):
    from league.battles.services.reports import file_report

    games = [plan() for _number in range(count)]
    for game in games:
        file_report(game, claim=claim(), submission=uuid4(), by=member)
    with django_assert_num_queries(4):
        assert len(results_of(games)) == count


def test_results_name_the_players_of_each_side(report, game, member, opponent):
    sides = results_of([game])[game.pk].sides
    assert [(side.position, side.member_ids) for side in sides] == [(1, (member.pk,)), (2, (opponent.pk,))]


def test_a_game_without_a_report_has_no_result(game):
    assert results_of([game]) == {}


def test_a_guest_opponent_leaves_the_report_to_the_umpire(plan, claim, member, guest, roster, umpire):
    from league.battles.services.games import SidePlan
    from league.battles.services.reports import file_report

    game = plan(sides=[SidePlan(member_ids=[member.pk]), SidePlan(member_ids=[guest.pk])])
    report = file_report(game, claim=claim(), submission=uuid4(), by=member)
    settle_report(report, verdict="stands", text="Gorran agrees.", by=umpire)
    assert state_of(report) == "settled"


def test_a_player_who_left_the_club_answers_nothing(report, opponent):
    opponent.left_at = factories.clubs.LONG_AGO
    opponent.save(update_fields=["left_at"])
    with pytest.raises(NotYoursToDo):
        confirm_report(report, by=opponent)
