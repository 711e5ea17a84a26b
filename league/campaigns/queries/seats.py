"""Who leads whom in a campaign, and as whom a person looks at it."""

from __future__ import annotations

from league.campaigns.models import Campaign, Seat
from league.clubs.models import Member

__all__ = ["seat_of", "seats_of"]


def seat_of(member: Member | None, campaign: Campaign) -> Seat | None:
    """The faction a member leads today, or None."""
    if member is None:
        return None
    return Seat.objects.filter(campaign=campaign, member=member, left_at=None).first()


def seats_of(campaign: Campaign) -> dict[str, list[Member]]:
    """The members who lead each faction today, by the faction's key: one query."""
    found: dict[str, list[Member]] = {}
    for seat in Seat.objects.filter(campaign=campaign, left_at=None).select_related("member").order_by("pk"):
        found.setdefault(seat.faction, []).append(seat.member)
    return found
