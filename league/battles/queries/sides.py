"""The sides of one game with all that hangs on them."""

from __future__ import annotations

from django.db.models import Prefetch

from league.battles.models import Game, Side, SidePlayer

__all__ = ["sides_of"]


def sides_of(game: Game) -> list[Side]:
    """In the order of their positions, with players, roster and snapshot; two queries."""
    players = Prefetch("players", SidePlayer.objects.select_related("member").order_by("pk"))
    return list(game.sides.select_related("roster", "snapshot").prefetch_related(players).order_by("position"))
