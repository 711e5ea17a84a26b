from __future__ import annotations

from datetime import date, time

import pytest

from tests import factories


@pytest.fixture
def venue(club):
    return factories.VenueFactory(club=club, name="Weir Street Hall")


@pytest.fixture
def night(club, venue):
    return factories.NightFactory(club=club, venue=venue, on=date(2026, 3, 26), starts_at=time(19, 0))


@pytest.fixture
def stranger(db):
    """A person with an account and no club."""
    return factories.UserFactory(name="Isolde")
