"""Who may do what in a campaign. Predicates only: they neither raise nor read lists.

Whoever leads a faction is a player in that campaign, whatever office they hold in the club: an umpire who plays sees
what their faction sees and rules on nothing.
"""

from __future__ import annotations

from league.campaigns.models import Campaign, Seat, Story
from league.clubs.models import Member
from league.clubs.permissions import can_run_club, can_umpire

__all__ = [
    "can_draw_up",
    "can_found",
    "can_hide",
    "can_judge",
    "can_lead",
    "can_tell",
]


def can_found(member: Member | None) -> bool:
    """Umpires and organisers begin campaigns."""
    return can_run_club(member) or can_umpire(member)


def can_judge(member: Member | None, campaign: Campaign, seat: Seat | None) -> bool:
    """Umpires of the club who lead no faction in this campaign: they see all, close turns and rule."""
    return seat is None and member is not None and member.club_id == campaign.club_id and can_umpire(member)


def can_draw_up(member: Member | None, campaign: Campaign, seat: Seat | None) -> bool:
    """Whoever judges a campaign draws it up; before it starts so may whoever founded it and the organisers."""
    if can_judge(member, campaign, seat):
        return True
    if member is None or member.left_at is not None or member.club_id != campaign.club_id or seat is not None:
        return False
    return campaign.started_at is None and (can_run_club(member) or member.pk == campaign.created_by_id)


def can_lead(member: Member | None, seat: Seat | None, faction: str) -> bool:
    """A faction's orders are given by those who lead it, and by nobody else."""
    return member is not None and member.left_at is None and seat is not None and seat.faction == faction


def can_tell(member: Member | None, campaign: Campaign) -> bool:
    """Every member of the club may tell a story of a turn."""
    return member is not None and member.left_at is None and member.club_id == campaign.club_id


def can_hide(member: Member | None, story: Story) -> bool:
    """A story is hidden by whoever told it, and by organisers and umpires."""
    if member is None or member.left_at is not None or member.club_id != story.campaign.club_id:
        return False
    return member.pk == story.by_id or can_run_club(member) or can_umpire(member)
