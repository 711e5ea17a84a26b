"""Who may do what with a roster. Predicates only: they neither raise nor read lists."""

from __future__ import annotations

from league.clubs.models import Club, Member
from league.clubs.permissions import can_run_club
from league.rosters.models import Roster

__all__ = ["can_change_roster", "can_copy_roster", "can_own_rosters_for", "can_retire_roster"]


def can_own_rosters_for(member: Member | None, owner: Member) -> bool:
    """Write a roster for somebody: everyone for themselves, organisers also for guests and those without a phone."""
    if member is None or member.left_at is not None or owner.left_at is not None or member.club_id != owner.club_id:
        return False
    return member.pk == owner.pk or can_run_club(member)


def can_change_roster(member: Member | None, roster: Roster) -> bool:
    """Its owner and organisers, while it is not retired; bringing it back is `can_retire_roster`'s business."""
    return can_retire_roster(member, roster) and roster.retired_at is None


def can_retire_roster(member: Member | None, roster: Roster) -> bool:
    """Retire a roster, or bring it back: its owner and organisers."""
    if member is None or member.left_at is not None or member.club_id != roster.club_id:
        return False
    return member.pk == roster.owner_id or can_run_club(member)


def can_copy_roster(member: Member | None, club: Club) -> bool:
    """Every member may take a club mate's roster as a start for their own."""
    return member is not None and member.left_at is None and member.club_id == club.pk
