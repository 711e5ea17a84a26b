"""A game night: Brannoc leads three units against Ceriden's two, over the ferry stage."""

from __future__ import annotations

from datetime import date
from uuid import uuid4

import pytest

from league.battles.services.games import plan_game, start_game
from league.battles.services.reports import CasualtyLine, ReportClaim, SideClaim, SidePlan, file_report
from tests import factories

DAY = date(2026, 3, 19)


@pytest.fixture
def ruleset(club):
    """The shipped skirmish ruleset: one six-sided die for each figure lost (1-2 lost, 3 out for one game)."""
    documents = [each for each in factories.rulesets.shipped_documents() if each["name"] == "Reeds and Ferrymen"]
    return factories.EditionFactory(ruleset__club=club, ruleset__name="Reeds", document=documents[0]).ruleset


@pytest.fixture
def edition(ruleset):
    return ruleset.editions.get()


@pytest.fixture
def roster(member, ruleset):
    made = factories.RosterFactory(owner=member, ruleset=ruleset, name="Arrel levy")
    for position, (name, kind, figures, points) in enumerate(
        [("The Weir captain", "leader", 1, 30), ("First reeds", "line", 8, 40), ("Towpath men", "line", 6, 30)]
    ):
        factories.UnitFactory(
            roster=made, position=position, name=name, unit_class=kind, figures=figures, points=points
        )
    return made


@pytest.fixture
def their_roster(opponent, ruleset):
    made = factories.RosterFactory(owner=opponent, ruleset=ruleset, name="Brune wardens")
    factories.UnitFactory(roster=made, position=0, name="Bank foot", figures=10, points=50)
    factories.UnitFactory(roster=made, position=1, name="Toll riders", unit_class="riders", figures=4, points=60)
    return made


@pytest.fixture
def plan(club, edition, member, opponent, roster, their_roster):
    """Plan a game between the two; what the test cares about it names."""

    def planned(**facts):
        facts = {
            "edition": edition,
            "scenario": "ferry_stage",
            "on": DAY,
            "sides": [
                SidePlan(member_ids=[member.pk], role="attacker", roster_id=roster.pk),
                SidePlan(member_ids=[opponent.pk], role="defender", roster_id=their_roster.pk),
            ],
            "submission": uuid4(),
            "by": member,
            **facts,
        }
        return plan_game(club, **facts)

    return planned


@pytest.fixture
def game(plan, member):
    """A game between the two that has begun."""
    return start_game(plan(), by=member)


@pytest.fixture
def bare_game(plan, member, opponent):
    """A planned game without rosters."""
    return plan(sides=[SidePlan(member_ids=[member.pk]), SidePlan(member_ids=[opponent.pk])])


@pytest.fixture
def claim():
    """A report of the ferry stage, 5 to 2; casualties by side."""

    def claimed(*, scores=(5, 2), casualties=((), ()), **facts):
        return ReportClaim(
            **{
                "fought_on": DAY,
                "sides": [
                    SideClaim(position=position, score=score, casualties=lines)
                    for position, (score, lines) in enumerate(zip(scores, casualties, strict=True), start=1)
                ],
                **facts,
            }
        )

    return claimed


@pytest.fixture
def lost():
    """A casualty line of the unit with this name."""

    def line(roster, name, figures=0, **facts):
        return CasualtyLine(unit_id=roster.units.get(name=name).pk, figures_lost=figures, **facts)

    return line


@pytest.fixture
def file(game, claim, member):
    """File a report of the begun game as Brannoc."""

    def filed(*, by=member, on=game, **facts):
        return file_report(on, claim=claim(**facts), submission=uuid4(), by=by)

    return filed


@pytest.fixture
def report(file, roster, lost):
    """A report in which Brannoc's first reeds lose three figures."""
    return file(casualties=([lost(roster, "First reeds", 3)], []))
