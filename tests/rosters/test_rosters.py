"""Rosters written, changed, copied, retired."""

from __future__ import annotations

import uuid

import pytest

from league.errors import NotYoursToDo
from league.rosters.models import Roster
from league.rosters.queries import states_of, violations_of
from league.rosters.services.facts import UnitFacts, facts_of
from league.rosters.services.rosters import (
    RosterMovedOn,
    RosterRefused,
    bring_back_roster,
    change_roster,
    copy_roster,
    create_roster,
    import_units,
    retire_roster,
)
from league.rosters.services.units import add_unit, change_unit, remove_unit
from league.rulesets.services.rulesets import retire_ruleset, revise_ruleset

SCOUTS = UnitFacts(name="Scouts", unit_class="runners", figures=4, points=24)
NAMES = {"name": "New name", "faction": "", "points_limit": 300, "note": ""}


def test_units_keep_the_order_they_were_written_in(roster):
    assert list(roster.units.order_by("position").values_list("name", flat=True)) == [
        "Captain Oss",
        "Red Company",
        "Reed Cutters",
    ]


def test_the_same_submission_twice_is_one_roster(write, member):
    submission = uuid.uuid4()
    assert write(member, [SCOUTS], submission=submission) == write(member, [SCOUTS], submission=submission)
    assert Roster.objects.count() == 1


def test_one_submission_cannot_name_two_rosters(write, member):
    submission = uuid.uuid4()
    write(member, submission=submission)
    with pytest.raises(Exception, match="already sent"):
        write(member, name="Another", submission=submission)


def test_a_roster_that_breaks_limits_is_kept_and_says_so(write, member):
    faults = violations_of(write(member, [SCOUTS], points_limit=20))
    assert "Too few: at least 3 of units are needed, there are 1." in faults
    assert "The roster is limited to 20 points; it has 24." in faults


def test_a_legal_roster_has_no_faults(roster):
    assert violations_of(roster) == []


def test_everything_that_cannot_be_kept_is_told_at_once(write, member):
    units = [UnitFacts(name=" ", unit_class="dragons", figures=0, points=-1, quality="brave")]
    with pytest.raises(RosterRefused) as refusal:
        write(member, units, name=" ", points_limit=-5)
    assert {each.field for each in refusal.value.violations} == {
        "name",
        "points_limit",
        "units.0.name",
        "units.0.unit_class",
        "units.0.quality",
        "units.0.figures",
        "units.0.points",
    }
    assert not Roster.objects.exists()


def test_a_retired_ruleset_begins_no_roster(write, member, ruleset, organiser):
    retire_ruleset(ruleset, by=organiser)
    ruleset.refresh_from_db()
    with pytest.raises(RosterRefused):
        write(member)


def test_members_write_for_themselves_and_organisers_for_others(write, member, opponent, organiser, guest):
    with pytest.raises(NotYoursToDo):
        write(opponent, by=member)
    assert write(opponent, by=organiser).owner == opponent
    assert write(guest, by=organiser).owner == guest


def test_a_ruleset_of_another_club_is_refused(outsider, other_club, ruleset):
    with pytest.raises(RosterRefused):
        create_roster(other_club, owner=outsider, ruleset=ruleset, name="X", submission=uuid.uuid4(), by=outsider)


def test_every_change_raises_the_version(roster, unit, member):
    change_roster(roster, **NAMES, version=1, by=member)
    add_unit(roster, facts=SCOUTS, version=2, by=member)
    change_unit(
        unit("Scouts"), facts=UnitFacts(name="Scouts", unit_class="line", figures=5, points=30), version=3, by=member
    )
    remove_unit(unit("Scouts"), version=4, by=member)
    roster.refresh_from_db()
    assert roster.version == 5


def test_a_change_of_a_version_that_is_past_is_refused(roster, unit, member, organiser):
    change_roster(roster, **NAMES, version=1, by=organiser)
    with pytest.raises(RosterMovedOn):
        change_roster(roster, **{**NAMES, "name": "Mine"}, version=1, by=member)
    with pytest.raises(RosterMovedOn):
        change_unit(unit("Red Company"), facts=SCOUTS, version=1, by=member)
    with pytest.raises(RosterMovedOn):
        add_unit(roster, facts=SCOUTS, version=1, by=member)
    with pytest.raises(RosterMovedOn):
        import_units(roster, units=[SCOUTS], version=1, by=member)


def test_the_second_arrival_of_a_change_changes_nothing(roster, member):
    first = add_unit(roster, facts=SCOUTS, version=1, by=member)
    assert add_unit(roster, facts=SCOUTS, version=1, by=member) == first
    assert roster.units.filter(name="Scouts").count() == 1


def test_two_units_may_say_the_same(roster, member):
    first = add_unit(roster, facts=SCOUTS, version=1, by=member)
    assert add_unit(roster, facts=SCOUTS, version=2, by=member) != first


def test_a_class_the_ruleset_dropped_may_stay_but_is_not_legal(roster, unit, document, organiser, member):
    document["unit_classes"] = [each for each in document["unit_classes"] if each["key"] != "runners"]
    revise_ruleset(roster.ruleset, document=document, note="", by=organiser)
    cutters = unit("Reed Cutters")
    renamed = UnitFacts(name="Cutters", unit_class="runners", figures=6, points=36, quality="raw")
    assert change_unit(cutters, facts=renamed, version=1, by=member).name == "Cutters"
    assert violations_of(roster) == ["Cutters: the ruleset knows no class “runners”."]


def test_a_copy_has_the_units_at_full_strength_and_names_its_origin(roster, fight, opponent):
    fight(Red_Company=(3, [1, 1, 1]))
    copy = copy_roster(roster, name="Ours", submission=uuid.uuid4(), by=opponent)
    assert (copy.owner, copy.copied_from) == (opponent, roster)
    assert [facts_of(each) for each in copy.units.order_by("position")] == [
        facts_of(each) for each in roster.units.order_by("position")
    ]
    assert [each.present for each in states_of(copy).values()] == [1, 10, 6]


def test_a_copy_leaves_out_what_was_removed(roster, unit, member):
    remove_unit(unit("Red Company"), by=member)
    copy = copy_roster(roster, submission=uuid.uuid4(), by=member)
    assert not copy.units.filter(name="Red Company").exists()


def test_people_of_other_clubs_copy_nothing(roster, outsider):
    with pytest.raises(NotYoursToDo):
        copy_roster(roster, submission=uuid.uuid4(), by=outsider)


def test_a_retired_roster_is_changed_no_more_until_it_is_brought_back(roster, member):
    retired = retire_roster(roster, by=member)
    with pytest.raises(NotYoursToDo):
        add_unit(roster, facts=SCOUTS, version=retired.version, by=member)
    back = bring_back_roster(roster, by=member)
    assert add_unit(back, facts=SCOUTS, version=back.version, by=member).pk


@pytest.mark.parametrize("act", [retire_roster, bring_back_roster])
def test_others_than_owner_and_organisers_retire_nothing(roster, opponent, act):
    with pytest.raises(NotYoursToDo):
        act(roster, by=opponent)


def test_others_than_owner_and_organisers_change_nothing(roster, unit, opponent):
    with pytest.raises(NotYoursToDo):
        change_unit(unit("Red Company"), facts=SCOUTS, version=1, by=opponent)
    with pytest.raises(NotYoursToDo):
        remove_unit(unit("Red Company"), by=opponent)
