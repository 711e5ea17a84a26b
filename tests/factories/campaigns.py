from __future__ import annotations

from dataclasses import replace

import factory
from factory.django import DjangoModelFactory

from league.campaigns import models
from league.engines.documents.campaign import write_campaign
from league.engines.rulesets import ruleset_to_document
from tests.engines.war.world import CAMPAIGN, RULESET
from tests.factories.clubs import LONG_AGO, MemberFactory
from tests.factories.rosters import RosterFactory
from tests.factories.rulesets import EditionFactory


class CampaignFactory(DjangoModelFactory):
    """The small war of the engine's tests, under way, with forces of no roster's."""

    class Meta:
        model = models.Campaign

    created_by = factory.SubFactory(MemberFactory, is_umpire=True)
    club = factory.SelfAttribute("created_by.club")
    edition = factory.SubFactory(
        EditionFactory, ruleset__club=factory.SelfAttribute("...club"), document=ruleset_to_document(RULESET)
    )
    name = factory.Sequence("War {}".format)
    document = factory.LazyAttribute(lambda made: write_campaign(replace(CAMPAIGN, name=made.name)))
    created_at = LONG_AGO
    started_at = LONG_AGO


class SeatFactory(DjangoModelFactory):
    class Meta:
        model = models.Seat

    campaign = factory.SubFactory(CampaignFactory)
    member = factory.SubFactory(MemberFactory, club=factory.SelfAttribute("..campaign.club"))
    faction = "commons"
    taken_at = LONG_AGO


class EnlistedFactory(DjangoModelFactory):
    class Meta:
        model = models.Enlisted

    campaign = factory.SubFactory(CampaignFactory)
    force = "pikes"
    roster = factory.SubFactory(RosterFactory, owner__club=factory.SelfAttribute("...campaign.club"))
    at = LONG_AGO
