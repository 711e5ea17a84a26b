"""The roll-call between two battles: recruits and leavers, in one order with the battles."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from league.rosters.queries import roster_sheet, service_record, states_of
from league.rosters.services.musters import MusterLine, MusterRefused, record_muster, set_aside_musters
from league.rosters.services.records import next_sequence

NOW = datetime(2026, 3, 21, 9, 0, tzinfo=UTC)


@pytest.fixture
def call_the_roll(roster):
    def called(*lines, **facts):
        return record_muster(roster, title="Turn 3", held_on=date(2026, 3, 21), lines=lines, at=NOW, **facts)

    return called


def test_recruits_fill_the_places_of_the_lost(roster, fight, unit, call_the_roll):
    fight(Red_Company=(3, [1, 1, 1]))
    call_the_roll(MusterLine(unit_id=unit("Red Company").pk, joined=2))
    assert states_of(roster)[unit("Red Company").pk].present == 9


def test_recruits_know_less_than_the_veterans_they_join(roster, fight, unit, call_the_roll):
    fight(Red_Company=(5, [1, 1, 1, 1, 1]))
    learned = states_of(roster)[unit("Red Company").pk].experience
    call_the_roll(MusterLine(unit_id=unit("Red Company").pk, joined=5))
    # Five who know it and five who know nothing, rounded down: common practice, no source.
    assert states_of(roster)[unit("Red Company").pk].experience == learned // 2


def test_leavers_are_lost_without_a_fight(roster, unit, call_the_roll):
    call_the_roll(MusterLine(unit_id=unit("Red Company").pk, left=4))
    state = states_of(roster)[unit("Red Company").pk]
    assert (state.present, state.lost, state.games) == (6, 4, 0)


def test_a_muster_stands_in_the_record_between_the_battles(roster, fight, unit, call_the_roll):
    fight(Red_Company=(3, [1, 1, 1]))
    call_the_roll(MusterLine(unit_id=unit("Red Company").pk, joined=2))
    fight()
    lines = service_record(unit("Red Company"))
    assert [line.engagement is None for line in lines] == [False, True, False]
    assert lines[1].words == ("2 recruits joined",)


def test_the_next_battle_comes_after_the_muster(roster, unit, call_the_roll):
    (row,) = call_the_roll(MusterLine(unit_id=unit("Red Company").pk, left=1))
    assert next_sequence(roster) == row.sequence + 1


def test_a_muster_set_aside_counts_no_more(roster, unit, call_the_roll):
    rows = call_the_roll(MusterLine(unit_id=unit("Red Company").pk, left=4))
    set_aside_musters(rows, at=NOW)
    assert states_of(roster)[unit("Red Company").pk].present == 10


def test_a_muster_reckoned_anew_takes_the_place_of_the_old_one(roster, fight, unit, call_the_roll):
    rows = call_the_roll(MusterLine(unit_id=unit("Red Company").pk, left=4))
    fight()
    set_aside_musters(rows, at=NOW)
    (again,) = call_the_roll(MusterLine(unit_id=unit("Red Company").pk, left=1), sequence=rows[0].sequence)
    assert [line.engagement is None for line in service_record(unit("Red Company"))] == [True, False]
    assert (again.sequence, states_of(roster)[unit("Red Company").pk].present) == (rows[0].sequence, 9)


def test_the_rosters_page_counts_the_recruits(roster, fight, unit, call_the_roll):
    fight(Red_Company=(3, [1, 1, 1]))
    before = roster_sheet(roster).present
    call_the_roll(MusterLine(unit_id=unit("Red Company").pk, joined=2))
    assert roster_sheet(roster).present == before + 2


def test_a_roll_call_names_everything_that_is_wrong(unit, call_the_roll):
    with pytest.raises(MusterRefused) as refused:
        call_the_roll(
            MusterLine(unit_id=0, joined=1),
            MusterLine(unit_id=unit("Red Company").pk),
            MusterLine(unit_id=unit("Red Company").pk, left=-1),
        )
    assert [(each.field, each.code) for each in refused.value.violations] == [
        ("lines.0", "unknown"),
        ("lines.1", "missing"),
        ("lines.2", "range"),
        ("lines", "twice"),
    ]
