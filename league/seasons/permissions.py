"""Who may do what with a season. Predicates only: they neither raise nor read lists."""

from __future__ import annotations

from collections.abc import Iterable

from league.clubs.models import Member
from league.clubs.permissions import can_run_club
from league.seasons.models import Entrant, Season

__all__ = ["ARRANGED", "can_arrange", "can_download", "can_run_season", "can_start_season"]


# Formats in which players arrange their own games.
ARRANGED = frozenset({Season.Format.OPEN, Season.Format.LADDER})


def can_start_season(member: Member | None) -> bool:
    """Organisers make seasons, from nothing or from a file."""
    return can_run_club(member)


def can_run_season(member: Member | None, season: Season) -> bool:
    """Organisers of its club enter, pair, mark and adjust."""
    return member is not None and member.club_id == season.club_id and can_run_club(member)


def can_arrange(member: Member | None, season: Season, entrants: Iterable[Entrant] = ()) -> bool:
    """In an open season and on a ladder whoever plays for one of them arranges their game; organisers arrange any.

    Without entrants: whether the member could arrange any game at all, as far as the format goes.
    """
    if can_run_season(member, season):
        return True
    if member is None or member.left_at is not None or member.club_id != season.club_id:
        return False
    if season.format not in ARRANGED:
        return False
    rows = list(entrants)
    return not rows or any(player.member_id == member.pk for row in rows for player in row.players.all())


def can_download(member: Member | None, season: Season) -> bool:
    """The season's file names every player, so it is for members of the club."""
    return member is not None and member.left_at is None and member.club_id == season.club_id
