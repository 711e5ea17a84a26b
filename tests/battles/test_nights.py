"""Which games are a night's: those planned for it, and those of its day that nobody plays elsewhere."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from league.battles.queries.nights import games_of_night
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def night(club):
    return factories.NightFactory(club=club)


def is_of(evening, **facts):
    game = factories.GameFactory(club=evening.club, **facts)
    return game in games_of_night(evening)


def test_a_game_planned_for_the_night_is_its_game(night):
    assert is_of(night, night=night, on=night.on)


def test_a_round_drawn_for_its_day_is_played_there(night):
    assert is_of(night, night=None, on=night.on)
    assert is_of(night, night=None, on=night.on, table=factories.TableFactory(venue=night.venue))


def test_a_game_at_another_hall_or_on_another_day_is_not(night):
    assert not is_of(night, night=None, on=night.on, table=factories.TableFactory())
    assert not is_of(night, night=None, on=night.on + timedelta(days=1))
    assert not is_of(night, night=factories.NightFactory(club=night.club), on=night.on)


def test_a_cancelled_game_and_another_clubs_are_not(night):
    assert not is_of(night, night=night, on=night.on, cancelled_at=timezone.now())
    elsewhere = factories.GameFactory(night=None, on=night.on)
    assert elsewhere not in games_of_night(night)
