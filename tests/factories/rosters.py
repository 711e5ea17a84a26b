from __future__ import annotations

import factory
from factory.django import DjangoModelFactory

from league.rosters import models
from tests.factories.clubs import LONG_AGO, MemberFactory
from tests.factories.rulesets import RulesetFactory


class RosterFactory(DjangoModelFactory):
    class Meta:
        model = models.Roster

    owner = factory.SubFactory(MemberFactory)
    club = factory.SelfAttribute("owner.club")
    ruleset = factory.SubFactory(RulesetFactory, club=factory.SelfAttribute("..club"))
    name = factory.Sequence("Roster {}".format)
    created_at = LONG_AGO


class UnitFactory(DjangoModelFactory):
    class Meta:
        model = models.Unit

    roster = factory.SubFactory(RosterFactory)
    position = factory.Sequence(lambda n: n)
    name = factory.Sequence("Unit {}".format)
    unit_class = "line"
    figures = 8
    points = 40
