from __future__ import annotations

from datetime import UTC, date, datetime, time

import factory
from factory.django import DjangoModelFactory

from accounts.models import User
from league.clubs import models

LONG_AGO = datetime(2026, 1, 10, 19, 0, tzinfo=UTC)


class UserFactory(DjangoModelFactory):
    class Meta:
        model = User

    email = factory.Sequence("person{}@example.org".format)
    name = factory.Sequence("Person {}".format)


class ClubFactory(DjangoModelFactory):
    class Meta:
        model = models.Club

    name = factory.Sequence("Club {}".format)
    slug = factory.Sequence("club-{}".format)


class MemberFactory(DjangoModelFactory):
    class Meta:
        model = models.Member

    club = factory.SubFactory(ClubFactory)
    user = factory.SubFactory(UserFactory)
    name = factory.Sequence("Member {}".format)
    joined_at = LONG_AGO


class GuestFactory(MemberFactory):
    user = None
    name = factory.Sequence("Guest {}".format)


class VenueFactory(DjangoModelFactory):
    class Meta:
        model = models.Venue

    club = factory.SubFactory(ClubFactory)
    name = factory.Sequence("Hall {}".format)


class TableFactory(DjangoModelFactory):
    class Meta:
        model = models.Table

    venue = factory.SubFactory(VenueFactory)
    number = factory.Sequence(lambda n: n + 1)
    width_mm = 1800
    depth_mm = 1200


class NightFactory(DjangoModelFactory):
    class Meta:
        model = models.Night

    club = factory.SubFactory(ClubFactory)
    venue = factory.SubFactory(VenueFactory, club=factory.SelfAttribute("..club"))
    on = date(2026, 3, 19)
    starts_at = time(19, 0)
