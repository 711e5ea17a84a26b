"""Who may do what with a season. Predicates only: they neither raise nor read lists."""

from __future__ import annotations

from league.clubs.models import Member
from league.clubs.permissions import can_run_club
from league.seasons.models import Season

__all__ = ["can_download", "can_run_season", "can_start_season"]


def can_start_season(member: Member | None) -> bool:
    """Organisers make seasons, from nothing or from a file."""
    return can_run_club(member)


def can_run_season(member: Member | None, season: Season) -> bool:
    """Organisers of its club enter, pair, mark and adjust."""
    return member is not None and member.club_id == season.club_id and can_run_club(member)


def can_download(member: Member | None, season: Season) -> bool:
    """The season's file names every player, so it is for members of the club."""
    return member is not None and member.left_at is None and member.club_id == season.club_id
