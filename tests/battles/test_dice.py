"""The dice of the fallen: typed in from the table, or drawn from a seed both players can check."""

from __future__ import annotations

import hashlib
import hmac
from uuid import uuid4

import pytest

from league.battles.queries.dice import seed_is_open, wanted_by
from league.battles.queries.pages import report_to_show
from league.battles.queries.report_page import report_page
from league.battles.services.dice import DiceAlreadyThrown, DiceRefused, draw_rolls, enter_dice, enter_rolls
from league.battles.services.reports import ReportMovedOn, correct_report
from league.errors import NotYoursToDo
from league.rosters.models import Casualty, Rolls
from league.rosters.queries import states_of


@pytest.fixture
def casualty(report):
    return Casualty.objects.get(engagement__result__report=report)


def shown(report, user):
    return report_page(report_to_show(user, report.game.club, report.pk))


def test_each_figure_lost_wants_its_die(report):
    # The shipped ruleset throws one six-sided die for each figure of a line unit.
    assert [(each.count, each.sides) for each in wanted_by(report)] == [(3, 6)]


def test_dice_typed_in_decide(casualty, member, roster):
    # By the table for everyone else: 1-2 lost, 3 out for one game, 4-6 back.
    enter_rolls(casualty, results=[1, 3, 6], by=member)
    state = states_of(roster)[casualty.unit_id]
    assert (state.present, state.lost, state.recovering_figures) == (6, 1, 1)


def test_the_same_dice_once_more_are_the_dice_that_lie_there(casualty, member):
    assert enter_rolls(casualty, results=[1, 3, 6], by=member) == enter_rolls(casualty, results=[1, 3, 6], by=member)


def test_dice_are_thrown_once(casualty, member):
    enter_rolls(casualty, results=[1, 3, 6], by=member)
    with pytest.raises(DiceRefused, match="thrown before"):
        enter_rolls(casualty, results=[6, 6, 6], by=member)


def test_too_few_dice_and_faces_that_are_not_there_are_told_together(casualty, member):
    with pytest.raises(DiceRefused) as refusal:
        enter_rolls(casualty, results=[7, 0], by=member)
    assert [each.code for each in refusal.value.violations] == ["wrong_number_of_rolls", "no_such_face", "no_such_face"]


def test_wrong_dice_of_one_unit_keep_those_of_the_others_out(file, roster, lost, member):
    report = file(casualties=([lost(roster, "First reeds", 1), lost(roster, "Towpath men", 1)], []))
    first, second = Casualty.objects.order_by("pk")
    with pytest.raises(DiceRefused):
        enter_dice(report, results={first.pk: [4], second.pk: [9]}, by=member)
    assert not Rolls.objects.exists()


def test_who_did_not_play_enters_no_dice(casualty, quartermaster):
    with pytest.raises(NotYoursToDo):
        enter_rolls(casualty, results=[1, 3, 6], by=quartermaster)


def test_the_site_draws_what_the_recipe_says(report, casualty, member):
    """The recipe as the page explains it, done by hand with the standard library."""
    rolls = draw_rolls(report, by=member)[0]
    seed = bytes.fromhex(report.game.seed)
    label = f"unit-{casualty.unit_id}".encode()
    block = hmac.new(seed, label + b"\0" + (0).to_bytes(8, "big"), hashlib.sha256).digest()
    assert rolls.results == [byte % 6 + 1 for byte in block if byte < 252][:3]


def test_the_hash_shown_before_is_the_seeds(report, member):
    draw_rolls(report, by=member)
    game = report.game
    assert hashlib.sha256(bytes.fromhex(game.seed)).hexdigest() == game.seed_hash


def test_drawing_twice_draws_nothing_new(report, member):
    draw_rolls(report, by=member)
    assert draw_rolls(report, by=member) == []
    assert Rolls.objects.count() == 1


def test_every_game_has_a_seed_of_its_own(plan):
    assert plan().seed != plan().seed


def test_the_seed_is_closed_until_dice_are_drawn(report, member):
    assert shown(report, member.user).seed == ""
    draw_rolls(report, by=member)
    assert shown(report, member.user).seed == report.game.seed


def test_dice_from_the_table_open_no_seed(report, casualty, member):
    enter_rolls(casualty, results=[1, 3, 6], by=member)
    assert not seed_is_open(report.game)


def test_the_page_says_that_drawn_dice_were_checked(report, member):
    draw_rolls(report, by=member)
    assert [line.is_checked for line in shown(report, member.user).drawn] == [True]


def test_the_page_says_when_drawn_dice_do_not_come_from_the_seed(report, member):
    rolls = draw_rolls(report, by=member)[0]
    wrong = [roll % 6 + 1 for roll in rolls.results]
    Rolls.objects.filter(pk=rolls.pk).update(results=wrong)
    assert [line.is_checked for line in shown(report, member.user).drawn] == [False]


def test_a_correction_cannot_draw_again(report, claim, member, roster, lost):
    first = draw_rolls(report, by=member)[0].results
    fewer = claim(casualties=([lost(roster, "First reeds", 2)], []))
    corrected = correct_report(report, claim=fewer, reason="Two", submission=uuid4(), by=member)
    assert Rolls.objects.get(casualty__engagement__result__report=corrected).results == first[:2]


def test_a_correction_keeps_the_dice_of_the_table(report, casualty, claim, member, roster, lost):
    enter_rolls(casualty, results=[1, 3, 6], by=member)
    same = claim(scores=(6, 2), casualties=([lost(roster, "First reeds", 3)], []))
    corrected = correct_report(report, claim=same, reason="Six", submission=uuid4(), by=member)
    assert Rolls.objects.get(casualty__engagement__result__report=corrected).results == [1, 3, 6]


def test_another_number_of_fallen_wants_its_dice_from_the_table_anew(report, casualty, claim, member, roster, lost):
    enter_rolls(casualty, results=[1, 3, 6], by=member)
    more = claim(casualties=([lost(roster, "First reeds", 4)], []))
    corrected = correct_report(report, claim=more, reason="Four", submission=uuid4(), by=member)
    assert [each.count for each in wanted_by(corrected)] == [4]


def test_once_the_seed_is_known_dice_are_drawn_and_not_typed(report, claim, member, roster, lost):
    draw_rolls(report, by=member)
    more = claim(casualties=([lost(roster, "First reeds", 3), lost(roster, "Towpath men", 1)], []))
    corrected = correct_report(report, claim=more, reason="And one", submission=uuid4(), by=member)
    fresh = Casualty.objects.get(engagement__result__report=corrected, unit__name="Towpath men")
    with pytest.raises(DiceAlreadyThrown):
        enter_rolls(fresh, results=[6], by=member)


def test_a_corrected_report_takes_no_dice(report, claim, member):
    correct_report(report, claim=claim(), reason="None fell", submission=uuid4(), by=member)
    with pytest.raises(ReportMovedOn):
        draw_rolls(report, by=member)


def test_fates_are_told_in_words(report, casualty, member):
    enter_rolls(casualty, results=[1, 3, 6], by=member)
    line = shown(report, member.user).sides[0].fallen[0]
    assert line.fates == ("1 lost for good", "1 misses the next game", "1 back for the next game")


def test_the_die_to_throw_is_named(report, member):
    line = shown(report, member.user).waiting[0]
    assert line.die_words == "Throw a die of 6 sides."
    assert line.table_lines[0] == ("1\N{EN DASH}2", "lost for good")


def test_a_three_sided_die_is_read_off_a_six_sided_one():
    from league.battles.queries.fates import die_in_words
    from league.engines.rulesets import CasualtyTable, Outcome

    table = CasualtyTable(
        key="t", name="T", roll_for="figure", die=3, outcomes=(Outcome(first=1, last=3, fate="back"),)
    )
    assert die_in_words(table) == (
        "Throw a die of 6 sides and enter what it shows: "
        "1\N{EN DASH}2 counts as 1, 3\N{EN DASH}4 counts as 2, 5\N{EN DASH}6 counts as 3."
    )
