"""Who may do what in a club. Predicates only: they neither raise nor read lists."""

from __future__ import annotations

from league.clubs.models import Member, Night

__all__ = [
    "can_answer_for",
    "can_change_privacy",
    "can_remove",
    "can_rename",
    "can_run_club",
    "can_see_guardian",
    "can_umpire",
]


def can_run_club(member: Member | None) -> bool:
    """Organisers run the club: people, invitations, venues, nights, seasons, rulesets."""
    return member is not None and member.left_at is None and member.is_organiser


def can_umpire(member: Member | None) -> bool:
    """Umpires settle disputes. An organiser who must settle one makes themselves umpire first, for all to see."""
    return member is not None and member.left_at is None and member.is_umpire


def can_answer_for(member: Member, night: Night, who: Member) -> bool:
    """Everyone answers for themselves; organisers also for guests and for those without a phone."""
    return night.club_id == member.club_id == who.club_id and (member.pk == who.pk or can_run_club(member))


def can_see_guardian(member: Member | None, who: Member) -> bool:
    """A guardian's contact is for organisers of the same club only."""
    return can_run_club(member) and member is not None and member.club_id == who.club_id


def can_change_privacy(member: Member | None, who: Member) -> bool:
    """What strangers see of a person is that person's own choice, not even an organiser's."""
    return member is not None and member.left_at is None and member.pk == who.pk


def can_rename(member: Member | None, who: Member) -> bool:
    """Everyone names themselves; organisers also correct the name of others."""
    return member is not None and member.club_id == who.club_id and (member.pk == who.pk or can_run_club(member))


def can_remove(member: Member | None, who: Member) -> bool:
    """Everyone may leave; organisers may take others off the list."""
    return can_rename(member, who)
