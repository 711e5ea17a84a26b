"""Which games are a night's."""

from __future__ import annotations

from typing import Any

from django.db.models import Q

from league.battles.models import Game
from league.clubs.models import Night

__all__ = ["games_of_night"]


def games_of_night(night: Night) -> Any:
    """The games planned for a night, and those of its day that name no night, unless they name a table elsewhere: a
    season's round is drawn for a day, and is played where the club meets on it. Without those that were cancelled."""
    that_day = Q(night=None, on=night.on) & (Q(table=None) | Q(table__venue=night.venue_id))
    return Game.objects.filter(Q(night=night) | that_day, club=night.club_id, cancelled_at=None)
