"""Who leads a faction. Seats are given by whoever draws the campaign up, once it runs by its umpire."""

from __future__ import annotations

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Seat
from league.campaigns.permissions import can_draw_up
from league.campaigns.queries.drawing_up import drawn_of
from league.campaigns.queries.seats import seat_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused, lock_campaign
from league.clubs.models import Member
from league.clubs.permissions import can_umpire
from league.engines import war
from league.errors import NotYoursToDo, Violation

__all__ = ["leave_seat", "take_seat"]


@transaction.atomic
def take_seat(campaign: Campaign, *, member: Member, faction: str, by: Member) -> Seat:
    """Let a member lead a faction, alone or with those who lead it already. Twice is once.

    Raises:
        NotYoursToDo: `by` may not draw the campaign up.
        CampaignMovedOn: it is over.
        CampaignRefused: with everything that is wrong.
    """
    if not can_draw_up(by, campaign, seat_of(by, campaign)):
        raise NotYoursToDo(_("Seats are given by whoever draws the campaign up, and by its umpire."))
    current = lock_campaign(campaign)
    if current.ended_at is not None:
        raise CampaignMovedOn(_("The campaign is over."))
    began = drawn_of(current)
    there = seat_of(member, current)
    if there is not None and there.faction == faction:
        return there
    party = began.faction(faction)
    if faults := _faults(current, member, party, there):
        raise CampaignRefused(faults)
    now = timezone.now()
    try:
        with transaction.atomic():
            seat = Seat.objects.create(campaign=current, faction=faction, member=member, taken_at=now)
    except IntegrityError:
        raise CampaignMovedOn(_("%(name)s was given a seat just now.") % {"name": member.name}) from None
    log_act(
        current.club, "seat_taken", current, by=by, at=now, name=member.name, faction=party.name if party else faction
    )
    return seat


def _faults(campaign: Campaign, member: Member, party: war.Faction | None, there: Seat | None) -> list[Violation]:
    called = {"name": member.name}
    faults = []
    if party is None:
        faults.append(Violation(_("There is no such faction."), "faction", "unknown_faction"))
    if member.club_id != campaign.club_id or member.left_at is not None:
        faults.append(Violation(_("This is no member of the club."), "member", "not_of_club"))
    elif member.user_id is None:
        words = _("%(name)s is a guest without an account and could give no orders.")
        faults.append(Violation(words % called, "member", "guest"))
    if there is not None:
        faults.append(Violation(_("%(name)s leads another faction already.") % called, "member", "seated"))
    elif party and campaign.started_at is not None and _knows_others(campaign, member, party.key):
        words = _("%(name)s has led another faction in this war and knows what it hides.")
        faults.append(Violation(words % called, "member", "knows_others"))
    return faults


def _knows_others(campaign: Campaign, member: Member, faction: str) -> bool:
    """Whether this member led another faction since the war began."""
    held = Seat.objects.filter(campaign=campaign, member=member, left_at__gte=campaign.started_at)
    return held.exclude(faction=faction).exists()


@transaction.atomic
def leave_seat(seat: Seat, *, by: Member) -> Seat:
    """Give up a seat: one's own, or, for whoever draws up, anybody's. Twice is once.

    Raises:
        NotYoursToDo
    """
    campaign = lock_campaign(seat.campaign)
    own = by.pk == seat.member_id and by.left_at is None
    if own and campaign.started_at is not None and can_umpire(by):
        # Without a seat they would judge the war, and see what the others hide.
        raise NotYoursToDo(_("An umpire of the club who leads a faction is let go by another umpire."))
    if not own and not can_draw_up(by, campaign, seat_of(by, campaign)):
        raise NotYoursToDo(_("A seat is given up by whoever holds it, or freed by whoever draws up or judges the war."))
    now = timezone.now()
    if Seat.objects.filter(pk=seat.pk, left_at=None).update(left_at=now):
        party = drawn_of(campaign).faction(seat.faction)
        faction = party.name if party else seat.faction
        log_act(campaign.club, "seat_left", campaign, by=by, at=now, name=seat.member.name, faction=faction)
    seat.refresh_from_db()
    return seat
