"""A ruleset, a roster of three units, and battles to fight with it."""

from __future__ import annotations

import uuid
from datetime import UTC, date, datetime

import pytest

from league.rosters.services.facts import UnitFacts
from league.rosters.services.records import CasualtyLine, record_engagement, record_rolls, take_snapshot
from league.rosters.services.rosters import create_roster
from league.rulesets.queries import current_edition, shipped_documents
from league.rulesets.services.rulesets import create_ruleset

NOW = datetime(2026, 3, 19, 22, 0, tzinfo=UTC)


@pytest.fixture
def document():
    """In it a lost figure is lost for good on 1-2, out for one battle on 3, and back on 4-6, unless it is a veteran."""
    return shipped_documents()["ferry_skirmish"]


@pytest.fixture
def ruleset(club, organiser, document):
    return create_ruleset(club, document=document, by=organiser)


@pytest.fixture
def write(club, ruleset):
    """Write a roster for a member."""

    def written(owner, units=(), *, name="Sedge Patrol", **facts):
        facts = {"submission": uuid.uuid4(), "by": owner, **facts}
        return create_roster(club, owner=owner, ruleset=ruleset, name=name, units=units, **facts)

    return written


@pytest.fixture
def roster(write, member):
    """A legal roster of Brannoc's."""
    return write(
        member,
        [
            UnitFacts(name="Captain Oss", unit_class="leader", figures=1, points=30, quality="veteran"),
            UnitFacts(name="Red Company", unit_class="line", figures=10, points=60, gear=("long muskets", "grenades")),
            UnitFacts(name="Reed Cutters", unit_class="runners", figures=6, points=36, quality="raw"),
        ],
        faction="Commons of Arrel",
    )


@pytest.fixture
def unit(roster):
    """Find a unit by its name."""
    return lambda name: roster.units.get(name=name)


@pytest.fixture
def fight(roster):
    """Fight a battle: casualties by unit name as figures lost, or as (figures lost, dice)."""

    def fought(outcome="win", *, replaces=None, on=date(2026, 3, 19), destroyed=(), routed=(), **losses):
        snapshot = replaces.snapshot if replaces else snapshot_of(roster)
        by_name = {name.replace("_", " "): loss for name, loss in losses.items()}
        lines = []
        for name in {*by_name, *destroyed, *routed}:
            loss = by_name.get(name, 0)
            lines.append(
                CasualtyLine(
                    unit_id=roster.units.get(name=name).pk,
                    figures_lost=loss[0] if isinstance(loss, tuple) else loss,
                    destroyed=name in destroyed,
                    routed=name in routed,
                )
            )
        engagement = record_engagement(
            roster,
            snapshot=snapshot,
            title="Against Ceriden",
            fought_on=on,
            outcome=outcome,
            casualties=lines,
            replaces=replaces,
            at=NOW,
        )
        for name, loss in by_name.items():
            if isinstance(loss, tuple):
                casualty = engagement.casualties.get(unit__name=name)
                record_rolls(casualty, source="table", results=loss[1], by=roster.owner, at=NOW)
        return engagement

    return fought


def snapshot_of(roster):
    return take_snapshot(roster, edition=current_edition(roster.ruleset), by=roster.owner, at=NOW)


@pytest.fixture
def snapshot(roster):
    return snapshot_of(roster)
