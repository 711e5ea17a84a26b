"""A war that is drawn up: Ulmar founds it, Brannoc and Ceriden are to lead."""

from __future__ import annotations

import uuid
from dataclasses import replace

import pytest

from league.campaigns.models import Campaign
from league.campaigns.services.drawing_up import found_campaign, set_factions, set_start, write_map
from league.campaigns.services.enlisting import enlist
from league.campaigns.services.seats import take_seat
from league.engines import war
from league.engines.rulesets import ruleset_to_document
from tests import factories
from tests.engines.war.world import CAMPAIGN, MAP, RULESET

FACTIONS = tuple(replace(each) for each in CAMPAIGN.factions)


@pytest.fixture
def edition(club):
    document = ruleset_to_document(RULESET)
    return factories.EditionFactory(ruleset__club=club, ruleset__name=RULESET.name, document=document)


@pytest.fixture
def draft(club, edition, umpire):
    """Founded a moment ago: nothing on the map yet."""
    return found_campaign(
        club, edition=edition, name="The War of the Weirs", about="Mud.", submission=uuid.uuid4(), by=umpire
    )


@pytest.fixture
def rosters(member, opponent, edition):
    made = {}
    for force, owner in (("pikes", member), ("lancers", opponent)):
        roster = factories.RosterFactory(owner=owner, ruleset=edition.ruleset, name=f"The {force}")
        for number in (1, 2):
            factories.UnitFactory(
                roster=roster, name=f"{force} {number}", unit_class="foot", figures=10, points=20, position=number
            )
        made[force] = roster
    return made


@pytest.fixture
def mapped(draft, umpire):
    """With the map along the Sedge and its two factions, each at home."""
    write_map(draft, of=MAP, by=umpire)
    set_factions(draft, factions=FACTIONS, by=umpire)
    set_start(
        draft,
        holdings=CAMPAIGN.holdings,
        depots=[war.Depot(region="gate", faction="wardens")],
        stocks=[war.Stock(region="arrel", faction="commons", amount=10)],
        by=umpire,
    )
    return Campaign.objects.get(pk=draft.pk)


@pytest.fixture
def ready(mapped, rosters, umpire, member, opponent):
    """Nothing is missing: it can start."""
    enlist(mapped, roster=rosters["pikes"], faction="commons", region="mere", need=3, key="pikes", by=umpire)
    enlist(
        mapped, roster=rosters["lancers"], faction="wardens", region="gate", need=3, pace=2, key="lancers", by=umpire
    )
    take_seat(mapped, member=member, faction="commons", by=umpire)
    take_seat(mapped, member=opponent, faction="wardens", by=umpire)
    return Campaign.objects.get(pk=mapped.pk)
