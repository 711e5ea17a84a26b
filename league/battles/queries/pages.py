"""Fetching the one row a page or endpoint is about, within what the person may see; None where there is none."""

from __future__ import annotations

from django.db.models import Prefetch

from accounts.models import User
from league.battles.models import Game, Photo, Report, Side, SidePlayer
from league.battles.queries.games import with_lines
from league.clubs.models import Club

__all__ = ["game_to_show", "photo_to_show", "report_to_show"]


def with_players(prefix: str = "") -> list[Prefetch[str]]:
    return [
        Prefetch(f"{prefix}players", SidePlayer.objects.select_related("member").order_by("pk")),
        Prefetch(f"{prefix}sides", Side.objects.select_related("roster").order_by("position")),
    ]


def game_to_show(user: User, club: Club, pk: int) -> Game | None:
    """A game with all that `line_of` reads, its players and its sides' rosters."""
    games = with_lines(Game.objects.visible_to(user).filter(club=club, pk=pk))
    return (
        games.select_related("night__venue", "table__venue", "created_by", "club")
        .prefetch_related("players", "sides__roster")
        .first()
    )


def report_to_show(user: User, club: Club, pk: int) -> Report | None:
    """A report with its `state`, its game's players and sides."""
    return (
        Report.objects.visible_to(user)
        .filter(game__club=club, pk=pk)
        .with_state()
        .select_related("game__edition__ruleset", "game__night__venue", "game__table__venue", "game__club", "filed_by")
        .prefetch_related(*with_players("game__"))
        .first()
    )


def photo_to_show(user: User, club: Club, pk: int) -> Photo | None:
    return (
        Photo.objects.visible_to(user)
        .filter(game__club=club, pk=pk)
        .select_related("game__club")
        .prefetch_related("game__players")
        .first()
    )
