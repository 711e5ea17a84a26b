"""A roster enters a war that is under way: by the umpire's word, while orders are given, with the scars it has."""

from __future__ import annotations

import uuid

import pytest

from league.battles.services.claims import ReportClaim, SideClaim
from league.battles.services.games import SidePlan, plan_game
from league.battles.services.reports import file_report
from league.campaigns.models import Enlisted
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused
from league.campaigns.services.reinforcing import reinforce
from league.campaigns.services.turns import reveal_orders
from league.engines import war
from league.errors import NotYoursToDo
from league.rosters.queries.states import states_of
from league.rosters.services.facts import UnitFacts
from league.rosters.services.records import CasualtyLine
from league.rosters.services.rosters import create_roster
from tests import factories
from tests.campaigns.play import SOME_DAY, begin


@pytest.fixture
def played(club, umpire, member, opponent):
    return begin(club, umpire=umpire, commons=member, wardens=opponent)


@pytest.fixture
def relief(played):
    """A roster of Brannoc's that is not in the war."""
    ruleset = played.campaign.edition.ruleset
    unit_class = played.war().began.ruleset.unit_classes[0].key
    return create_roster(
        played.campaign.club,
        owner=played.commons,
        ruleset=ruleset,
        name="The Relief",
        units=[UnitFacts(name="Mounted Foot", unit_class=unit_class, figures=8, points=60)],
        submission=uuid.uuid4(),
        by=played.commons,
    )


def enter(played, roster, **told):
    region = played.war().now.map.regions[0].key
    facts = {"faction": "commons", "region": region, "need": 2, "reason": "They came by boat", "turn": 1}
    return reinforce(
        played.campaign, roster=roster, **{**facts, "submission": uuid.uuid4(), "by": played.umpire, **told}
    )


def force_of(played, roster):
    key = Enlisted.objects.get(campaign=played.campaign, roster=roster).force
    return played.war().now.forces[key]


def test_it_stands_on_the_map_at_once_and_can_be_given_orders(played, relief):
    enter(played, relief)
    force = force_of(played, relief)
    assert (force.name, force.faction, force.region) == (
        "The Relief",
        "commons",
        played.war().now.map.regions[0].key,
    )
    played.orders("commons", war.Hold(force=force.key))
    reveal_orders(played.campaign, turn=1, by=played.umpire)
    assert force_of(played, relief).region == force.region


def test_sent_twice_it_enters_once(played, relief):
    name = uuid.uuid4()
    first, again = (enter(played, relief, submission=name) for _time in range(2))
    assert first.pk == again.pk
    assert Enlisted.objects.filter(roster=relief).count() == 1


def test_a_roster_of_the_war_does_not_enter_again(played, relief):
    enter(played, relief)
    with pytest.raises(CampaignRefused, match="fights in this war already"):
        enter(played, relief)


def test_everything_wrong_is_said_at_once(played, relief):
    with pytest.raises(CampaignRefused) as refusal:
        enter(played, relief, faction="nobody", region="nowhere", need=-1, pace=99, reason=" ")
    assert {each.field for each in refusal.value.violations} == {"faction", "region", "need", "pace", "reason"}
    assert not Enlisted.objects.filter(roster=relief).exists()


def test_once_orders_are_revealed_it_waits_for_the_next_turn(played, relief):
    reveal_orders(played.campaign, turn=1, by=played.umpire)
    with pytest.raises(CampaignMovedOn, match="while orders are being given"):
        enter(played, relief)


def test_only_the_umpire_lets_a_force_enter(played, relief):
    with pytest.raises(NotYoursToDo):
        enter(played, relief, by=played.commons)


def test_the_umpire_does_it_on_the_desk(played, relief, browse):
    address = f"/clubs/{played.campaign.club.slug}/campaigns/{played.campaign.pk}/desk/forces/new/"
    told = {
        "submission": str(uuid.uuid4()),
        "roster": relief.pk,
        "faction": "commons",
        "region": played.war().now.map.regions[0].key,
        "need": 2,
        "pace": 1,
        "reason": "They came by boat",
    }
    page = browse(played.umpire).post(address, told, follow=True).content.decode()
    assert "can be given orders" in page
    assert force_of(played, relief).name == "The Relief"


def test_the_same_over_the_api(played, relief, call):
    address = f"/api/v1/clubs/{played.campaign.club.slug}/campaigns/{played.campaign.pk}/reinforcements/"
    told = {
        "submission": str(uuid.uuid4()),
        "turn": 1,
        "roster": relief.pk,
        "faction": "commons",
        "region": played.war().now.map.regions[0].key,
        "need": 2,
        "reason": "They came by boat",
    }
    assert call(played.umpire).post(address, told, format="json").status_code == 204
    assert force_of(played, relief).name == "The Relief"


def test_scars_from_before_come_along(played, relief):
    """What the roster lost in an earlier battle is missing when it enters, and both records go on together."""
    unit = relief.units.get()
    other = factories.RosterFactory(owner=played.wardens, ruleset=relief.ruleset, name="Sparring partners")
    factories.UnitFactory(roster=other, name="Sparrers", unit_class="foot", figures=10, points=20)
    game = plan_game(
        played.campaign.club,
        edition=played.campaign.edition,
        scenario="",
        on=SOME_DAY,
        sides=[
            SidePlan(member_ids=[played.commons.pk], roster_id=relief.pk),
            SidePlan(member_ids=[played.wardens.pk], roster_id=other.pk),
        ],
        submission=uuid.uuid4(),
        by=played.commons,
    )
    sides = [
        SideClaim(position=1, score=3, casualties=[CasualtyLine(unit_id=unit.pk, figures_lost=3)]),
        SideClaim(position=2, score=5),
    ]
    claim = ReportClaim(fought_on=SOME_DAY, sides=sides, is_full=True)
    file_report(game, claim=claim, submission=uuid.uuid4(), by=played.commons)
    enter(played, relief)
    by_war = {key: state.present for key, state in force_of(played, relief).states.items()}
    assert by_war == {key: state.present for key, state in states_of(relief).items()}
    assert sum(by_war.values()) < 8
    played.quiet_turn()
    by_war = {key: state.present for key, state in force_of(played, relief).states.items()}
    assert by_war == {key: state.present for key, state in states_of(relief).items()}
