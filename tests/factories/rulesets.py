from __future__ import annotations

import json
from pathlib import Path

import factory
from factory.django import DjangoModelFactory

import league.rulesets
from league.rulesets import models
from tests.factories.clubs import LONG_AGO, ClubFactory

DATA = Path(league.rulesets.__file__).parent / "data"


def shipped_documents() -> list[dict]:
    """The rulesets that ship with the demo, by file name."""
    return [json.loads(path.read_text(encoding="utf-8")) for path in sorted(DATA.glob("*.json"))]


class RulesetFactory(DjangoModelFactory):
    class Meta:
        model = models.Ruleset

    club = factory.SubFactory(ClubFactory)
    name = factory.Sequence("Ruleset {}".format)
    created_at = LONG_AGO


class EditionFactory(DjangoModelFactory):
    """The first shipped ruleset unless the test gives its own document."""

    class Meta:
        model = models.Edition

    ruleset = factory.SubFactory(RulesetFactory)
    number = 1
    document = factory.LazyFunction(lambda: shipped_documents()[0])
    created_at = LONG_AGO
