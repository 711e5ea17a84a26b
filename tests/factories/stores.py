from __future__ import annotations

from datetime import date

import factory
from factory.django import DjangoModelFactory

from league.stores import models
from tests.factories.clubs import LONG_AGO, ClubFactory, MemberFactory, NightFactory


class ItemKindFactory(DjangoModelFactory):
    class Meta:
        model = models.ItemKind

    club = factory.SubFactory(ClubFactory)
    key = factory.Sequence("marker-{}".format)
    name = factory.Sequence("Marker {}".format)
    category = models.Category.MARKER
    bulk_ml = 1
    created_at = LONG_AGO


class HoldingFactory(DjangoModelFactory):
    """The owner's holding; `held=12` gives it a record of one line."""

    class Meta:
        model = models.Holding
        skip_postgeneration_save = True

    owner = factory.SubFactory(MemberFactory)
    club = factory.LazyAttribute(lambda made: made.owner.club if made.owner else made.kind.club)
    kind = factory.SubFactory(ItemKindFactory, club=factory.SelfAttribute("..owner.club"))
    created_at = LONG_AGO

    @factory.post_generation
    def held(self, create, held, **_others):
        if create and held:
            MovementFactory(holding=self, change=held, held_after=held)


class MovementFactory(DjangoModelFactory):
    class Meta:
        model = models.Movement

    holding = factory.SubFactory(HoldingFactory)
    sequence = 1
    act = models.Act.RECEIVED
    change = 12
    held_after = factory.SelfAttribute("change")
    out_after = 0
    by = factory.SelfAttribute("holding.owner")
    at = LONG_AGO


class LoanFactory(DjangoModelFactory):
    """Asked for, not yet agreed."""

    class Meta:
        model = models.Loan

    holding = factory.SubFactory(HoldingFactory, held=12)
    borrower = factory.SubFactory(MemberFactory, club=factory.SelfAttribute("..holding.club"))
    count = 3
    due_on = date(2026, 3, 26)
    asked_by = factory.SelfAttribute("borrower")
    asked_at = LONG_AGO


class PromiseFactory(DjangoModelFactory):
    class Meta:
        model = models.Promise

    holding = factory.SubFactory(HoldingFactory, held=12)
    night = factory.SubFactory(NightFactory, club=factory.SelfAttribute("..holding.club"))
    member = factory.SelfAttribute("holding.owner")
    by = factory.SelfAttribute("member")
    count = 3
    promised_at = LONG_AGO
