from __future__ import annotations

import hashlib
from datetime import date

import factory
from factory.django import DjangoModelFactory

from league.battles import models
from tests.factories.clubs import LONG_AGO, ClubFactory, MemberFactory
from tests.factories.rulesets import EditionFactory

SEED = "00" * 32


class GameFactory(DjangoModelFactory):
    class Meta:
        model = models.Game

    club = factory.SubFactory(ClubFactory)
    edition = factory.SubFactory(EditionFactory, ruleset__club=factory.SelfAttribute("...club"))
    on = date(2026, 3, 19)
    seed = SEED
    seed_hash = hashlib.sha256(bytes.fromhex(SEED)).hexdigest()
    created_at = LONG_AGO


class SideFactory(DjangoModelFactory):
    class Meta:
        model = models.Side

    game = factory.SubFactory(GameFactory)
    position = factory.Sequence(lambda n: n + 1)


class SidePlayerFactory(DjangoModelFactory):
    class Meta:
        model = models.SidePlayer

    side = factory.SubFactory(SideFactory)
    game = factory.SelfAttribute("side.game")
    member = factory.SubFactory(MemberFactory, club=factory.SelfAttribute("..game.club"))
