"""The record of a roster's battles, and what its units are worth after it."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from league.rosters.queries import (
    impossible_engagements,
    rolls_wanted,
    service_record,
    states_of,
    states_of_rosters,
    violations_of_rosters,
)
from league.rosters.services.facts import UnitFacts, facts_of
from league.rosters.services.records import (
    CasualtiesRefused,
    CasualtyLine,
    RollsRefused,
    record_engagement,
    record_rolls,
    set_aside,
    take_snapshot,
)
from league.rosters.services.units import change_unit, remove_unit
from league.rulesets.queries import current_edition
from league.rulesets.services.rulesets import revise_ruleset

NOW = datetime(2026, 3, 19, 22, 0, tzinfo=UTC)


def state(roster, name, **options):
    return states_of(roster, **options)[roster.units.get(name=name).pk]


def test_a_unit_that_never_fought_stands_at_its_establishment(roster):
    assert state(roster, "Red Company").present == 10


def test_lost_figures_wait_until_their_dice_are_thrown(roster, fight):
    fight(Red_Company=3)
    red = state(roster, "Red Company")
    assert (red.present, red.awaiting_dice) == (7, 3)


def test_dice_decide_who_is_lost_who_is_out_and_who_is_back(roster, fight):
    fight(Red_Company=(3, [1, 3, 6]))
    red = state(roster, "Red Company")
    assert (red.present, red.lost, red.recovering_figures) == (8, 1, 1)


def test_those_out_for_one_battle_return_after_it(roster, fight):
    fight(Red_Company=(2, [3, 3]))
    assert state(roster, "Red Company").present == 8
    fight()
    assert state(roster, "Red Company").present == 10


def test_a_win_gives_a_unit_that_took_the_field_its_experience(roster, fight, document):
    fight("win")
    gained = document["experience"]["per_game"] + document["experience"]["per_win"]
    assert state(roster, "Red Company").experience == gained


def test_a_corrected_battle_mends_the_ones_after_it(roster, fight):
    first = fight(Red_Company=(4, [1, 1, 1, 1]))
    fight(Red_Company=(1, [6]))
    assert state(roster, "Red Company").present == 6
    fight(replaces=first)
    assert state(roster, "Red Company").present == 10


def test_a_correction_takes_the_place_of_what_it_corrects(roster, fight):
    first, second = fight(), fight()
    corrected = fight(replaces=first)
    assert (corrected.sequence, second.sequence) == (first.sequence, 2)


def test_a_place_set_aside_is_not_given_to_the_next_battle(roster, fight):
    fight()
    set_aside(fight(), at=NOW)
    assert fight().sequence == 3


def test_a_battle_set_aside_counts_no_more(roster, fight):
    battle = fight(Red_Company=(2, [1, 1]))
    set_aside(battle, at=NOW)
    assert state(roster, "Red Company").present == 10


def test_setting_aside_twice_keeps_the_first_hour(roster, fight):
    battle = set_aside(fight(), at=NOW)
    assert set_aside(battle, at=datetime(2027, 1, 1, tzinfo=UTC)).set_aside_at == NOW


def test_everything_that_cannot_be_about_casualties_is_told_at_once(roster, snapshot, unit):
    lines = [
        CasualtyLine(unit_id=unit("Red Company").pk, figures_lost=11),
        CasualtyLine(unit_id=unit("Reed Cutters").pk, figures_lost=2, destroyed=True),
        CasualtyLine(unit_id=unit("Captain Oss").pk),
        CasualtyLine(unit_id=999_999, figures_lost=1),
    ]
    with pytest.raises(CasualtiesRefused) as refusal:
        record_engagement(
            roster, snapshot=snapshot, title="", fought_on=date(2026, 3, 19), outcome="win", casualties=lines, at=NOW
        )
    told = {(each.field, each.code) for each in refusal.value.violations}
    assert {
        ("casualties.0", "more_lost_than_stood"),
        ("casualties.1", "destroyed_with_survivors"),
        ("casualties.2", "says_nothing"),
        ("casualties.3", "not_fielded"),
    } <= told
    assert any(each.message.startswith("Red Company: ") for each in refusal.value.violations)
    assert not roster.engagements.exists()


def test_a_refused_correction_leaves_what_it_would_correct(roster, fight):
    first = fight(Red_Company=(2, [1, 1]))
    with pytest.raises(CasualtiesRefused):
        fight(Red_Company=11, replaces=first)
    first.refresh_from_db()
    assert first.set_aside_at is None


def test_a_correction_is_held_against_the_strength_of_its_day(roster, fight):
    first = fight()
    fight(Red_Company=(10, [1] * 10), destroyed=["Red Company"])
    assert fight(Red_Company=(9, [6] * 9), replaces=first).pk


def test_a_later_battle_that_a_correction_makes_impossible_is_shown_and_not_refused(roster, fight):
    first = fight()
    later = fight(Red_Company=(6, [6] * 6))
    assert impossible_engagements(roster) == []
    fight(Red_Company=(8, [1] * 8), replaces=first)
    (doubt,) = impossible_engagements(roster)
    assert doubt.engagement == later
    assert "lost 6 figures, but only 2 stood" in doubt.reasons[0]


def test_a_report_of_a_unit_destroyed_at_fewer_figures_than_stood_is_shown(roster, fight):
    first = fight(Red_Company=(4, [1] * 4))
    fight(Red_Company=(6, [6] * 6), destroyed=["Red Company"])
    fight(replaces=first)
    (doubt,) = impossible_engagements(roster)
    assert "destroyed at 6 figures, but 10 stood" in doubt.reasons[0]


def test_a_report_of_a_unit_that_could_not_take_the_field_is_shown(roster, fight):
    first = fight()
    fight(Red_Company=(1, [6]))
    fight(Red_Company=(10, [1] * 10), destroyed=["Red Company"], replaces=first)
    (doubt,) = impossible_engagements(roster)
    assert "nobody of it could take the field" in doubt.reasons[0]


def test_units_without_casualties_are_not_judged(roster, fight, snapshot):
    fight(Red_Company=(10, [1] * 10), destroyed=["Red Company"])
    # The next game had begun before this one was reported; its snapshot still has the company.
    later = record_engagement(
        roster, snapshot=snapshot, title="", fought_on=date(2026, 3, 19), outcome="loss", casualties=[], at=NOW
    )
    assert later.pk


def test_a_snapshot_holds_every_unit_with_the_strength_of_its_day(roster, fight):
    fight(Red_Company=(3, [1, 3, 6]), Reed_Cutters=(6, [1] * 6), destroyed=["Reed Cutters"])
    taken = take_snapshot(roster, edition=current_edition(roster.ruleset), by=roster.owner, at=NOW)
    by_name = {each["name"]: each for each in taken.document["units"]}
    assert by_name["Red Company"] == {
        "id": roster.units.get(name="Red Company").pk,
        "name": "Red Company",
        "class": "line",
        "quality": "",
        "figures": 10,
        "present": 8,
        "points": 60,
        "gear": ["long muskets", "grenades"],
        "out": False,
        "experience": 3,
    }
    assert (by_name["Reed Cutters"]["present"], by_name["Reed Cutters"]["out"]) == (0, True)
    assert taken.points == 126


def test_a_removed_unit_is_in_no_later_snapshot_and_keeps_its_record(roster, fight, unit, member):
    fight(Red_Company=(2, [1, 1]))
    red = remove_unit(unit("Red Company"), by=member)
    taken = take_snapshot(roster, edition=current_edition(roster.ruleset), by=member, at=NOW)
    assert "Red Company" not in {each["name"] for each in taken.document["units"]}
    assert len(service_record(red)) == 1


def test_a_unit_promoted_since_keeps_the_fates_its_dice_gave_it(roster, fight, unit, member):
    # A two is lost for an ordinary unit and out for one battle for a veteran.
    fight(Red_Company=(1, [2]))
    red = unit("Red Company")
    promoted = UnitFacts(name="Red Guard", unit_class="line", figures=10, points=70, quality="veteran")
    change_unit(red, facts=promoted, version=roster.version, by=member)
    assert states_of(roster)[red.pk].lost == 1


def test_a_battle_keeps_the_rules_it_was_fought_by(roster, fight, document, organiser):
    fight(Red_Company=(1, [1]))
    document["casualty_tables"][2]["outcomes"] = [{"from": 1, "to": 6, "fate": "back"}]
    revise_ruleset(roster.ruleset, document=document, note="Everybody lives", by=organiser)
    assert state(roster, "Red Company").lost == 1
    fight(Red_Company=(1, [1]))
    assert state(roster, "Red Company").lost == 1


def test_the_state_before_a_battle_leaves_it_and_later_ones_out(roster, fight):
    fight(Red_Company=(1, [1]))
    second = fight(Red_Company=(1, [1]))
    assert state(roster, "Red Company", before_sequence=second.sequence).present == 9


def test_wanted_dice_are_told_with_their_number_and_the_die(roster, fight):
    (wanted,) = rolls_wanted(fight(Red_Company=3))
    assert (wanted.count, wanted.sides, wanted.table.key) == (3, 6, "foot")


def test_a_casualty_whose_dice_are_thrown_wants_none(roster, fight):
    assert rolls_wanted(fight(Red_Company=(1, [4]))) == []


def test_a_unit_that_only_routed_wants_no_dice(roster, fight):
    assert rolls_wanted(fight(routed=["Red Company"])) == []


def test_the_same_dice_again_are_those_that_are_there(fight, member):
    casualty = fight(Red_Company=(2, [1, 6])).casualties.get()
    assert record_rolls(casualty, source="table", results=[1, 6], by=member, at=NOW) == casualty.rolls


def test_other_dice_for_a_casualty_are_refused(fight, member):
    casualty = fight(Red_Company=(2, [1, 6])).casualties.get()
    with pytest.raises(RollsRefused):
        record_rolls(casualty, source="table", results=[6, 6], by=member, at=NOW)


def test_everything_wrong_with_dice_is_told_at_once(fight, member):
    casualty = fight(Red_Company=3).casualties.get()
    with pytest.raises(RollsRefused) as refusal:
        record_rolls(casualty, source="drawn", results=[0, 7], by=member, at=NOW)
    assert {each.code for each in refusal.value.violations} == {"seed", "wrong_number_of_rolls", "no_such_face"}


def test_a_service_record_says_what_happened_in_words(roster, fight, unit):
    fight(Red_Company=(3, [1, 3, 6]), routed=["Red Company"])
    (line,) = service_record(unit("Red Company"))
    assert "routed" in line.words
    assert "1 figure lost for good (dice 1, Everyone else)" in line.words
    assert "1 out for 1 battle (dice 3, Everyone else)" in line.words


@pytest.mark.parametrize("count", [1, 3])
def test_the_states_of_many_rosters_cost_six_queries(write, member, count, django_assert_num_queries):
    rosters = [write(member, [facts_for(number)], name=f"Roster {number}") for number in range(count)]
    for each in rosters:
        taken = take_snapshot(each, edition=current_edition(each.ruleset), by=member, at=NOW)
        line = CasualtyLine(unit_id=each.units.get().pk, figures_lost=1)
        record_engagement(
            each, snapshot=taken, title="", fought_on=date(2026, 3, 19), outcome="", casualties=[line], at=NOW
        )
    with django_assert_num_queries(6):
        states = states_of_rosters(rosters)
    assert {each.present for units in states.values() for each in units.values()} == {7}


@pytest.mark.parametrize("count", [1, 3])
def test_the_faults_of_many_rosters_cost_two_queries(write, member, count, django_assert_num_queries):
    rosters = [write(member, [facts_for(number)], name=f"Roster {number}") for number in range(count)]
    with django_assert_num_queries(2):
        faults = violations_of_rosters(rosters)
    assert all(faults.values()) and len(faults) == count


def facts_for(number):
    return UnitFacts(name=f"Company {number}", unit_class="line", figures=8, points=40)


def test_facts_read_back_as_they_were_written(unit):
    assert facts_of(unit("Red Company")).gear == ("long muskets", "grenades")
