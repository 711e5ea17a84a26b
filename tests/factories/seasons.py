from __future__ import annotations

from datetime import date

import factory
from factory.django import DjangoModelFactory

from league.seasons import models
from tests.factories.clubs import LONG_AGO, ClubFactory
from tests.factories.rulesets import RulesetFactory


class SeasonFactory(DjangoModelFactory):
    class Meta:
        model = models.Season

    club = factory.SubFactory(ClubFactory)
    ruleset = factory.SubFactory(RulesetFactory, club=factory.SelfAttribute("..club"))
    name = factory.Sequence("Season {}".format)
    starts_on = date(2026, 1, 15)
    rules = factory.Dict({})
    seed = "spring"
    created_at = LONG_AGO


class EntrantFactory(DjangoModelFactory):
    class Meta:
        model = models.Entrant

    season = factory.SubFactory(SeasonFactory)
    key = factory.Sequence("e{}".format)
    name = factory.Sequence("Entrant {}".format)
    entered_at = LONG_AGO


class RoundFactory(DjangoModelFactory):
    class Meta:
        model = models.Round

    season = factory.SubFactory(SeasonFactory)
    number = factory.Sequence(lambda n: n + 1)
