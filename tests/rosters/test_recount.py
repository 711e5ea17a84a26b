"""Random battles through the database, counted again figure by figure."""

from __future__ import annotations

import uuid
from datetime import UTC, date, datetime

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from league.rosters.queries import impossible_engagements, states_of
from league.rosters.services.facts import UnitFacts
from league.rosters.services.records import CasualtyLine, record_engagement, record_rolls, take_snapshot
from league.rosters.services.rosters import create_roster
from league.rulesets.queries import current_edition

NOW = datetime(2026, 3, 19, 22, 0, tzinfo=UTC)
ESTABLISHMENT = 8


class Figure:
    """One figure of a unit of line foot under the shipped skirmish rules: 1-2 lost, 3 out for one battle, 4-6 back."""

    def __init__(self):
        self.is_lost = False
        self.misses = 0

    def stands(self):
        return not self.is_lost and not self.misses

    def fall(self, roll):
        if roll <= 2:
            self.is_lost = True
        elif roll == 3:
            self.misses = 1


def recount(battles):
    """How many stand and how many are lost after battles given as lists of dice, one die for each figure that fell."""
    figures = [Figure() for _ in range(ESTABLISHMENT)]
    for dice in battles:
        absent = [each for each in figures if each.misses]
        fallen = [each for each in figures if each.stands()][: len(dice)]
        for each in absent:
            each.misses -= 1
        for each, roll in zip(fallen, dice, strict=True):
            each.fall(roll)
    return sum(each.stands() for each in figures), sum(each.is_lost for each in figures)


@pytest.mark.django_db
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_battles_recorded_one_by_one_fold_to_what_a_recount_finds(data, club, member, ruleset):
    facts = UnitFacts(name="Company", unit_class="line", figures=ESTABLISHMENT, points=40)
    roster = create_roster(
        club, owner=member, ruleset=ruleset, name="R", units=[facts], submission=uuid.uuid4(), by=member
    )
    unit = roster.units.get()
    battles = []
    for _ in range(data.draw(st.integers(1, 5))):
        standing, _lost = recount(battles)
        dice = data.draw(st.lists(st.integers(1, 6), max_size=standing))
        snapshot = take_snapshot(roster, edition=current_edition(ruleset), by=member, at=NOW)
        lines = [CasualtyLine(unit_id=unit.pk, figures_lost=len(dice))] if dice else []
        engagement = record_engagement(
            roster,
            snapshot=snapshot,
            title="",
            fought_on=date(2026, 3, 19),
            outcome="draw",
            casualties=lines,
            at=NOW,
        )
        if dice:
            record_rolls(engagement.casualties.get(), source="table", results=dice, by=member, at=NOW)
        battles.append(dice)
    state = states_of(roster)[unit.pk]
    assert (state.present, state.lost) == recount(battles)
    assert impossible_engagements(roster) == []
