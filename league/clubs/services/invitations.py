"""Letting people in by a link."""

from __future__ import annotations

import secrets
from datetime import datetime, timedelta

from django.db import IntegrityError, transaction
from django.db.models import F
from django.utils import timezone
from django.utils.translation import gettext as _

from accounts.models import User
from league.clubs.models import Club, Invitation, Member
from league.clubs.queries.invitations import InvitationState, digest_of_secret, invitation_by, state_of
from league.clubs.queries.people import membership_of
from league.clubs.services.log import log_act
from league.clubs.services.members import link_guest
from league.clubs.services.rights import refuse_unless_organiser
from league.clubs.services.texts import too_long
from league.errors import Refused, Violation

__all__ = ["InvitationClosed", "InvitationRefused", "InvitationUnknown", "invite", "join_by", "revoke_invitation"]

LONGEST_DAYS = 90
MOST_USES = 100


class InvitationRefused(Refused):
    """The invitation would not be in order."""


class InvitationUnknown(Refused):
    """No invitation has this secret."""

    status = 404


class InvitationClosed(Refused):
    """The link has expired, was revoked or is used up."""

    status = 410


@transaction.atomic
def invite(
    club: Club,
    *,
    note: str = "",
    uses_allowed: int = 1,
    days: int = 14,
    makes_organiser: bool = False,
    makes_umpire: bool = False,
    makes_quartermaster: bool = False,
    guest: Member | None = None,
    by: Member,
) -> tuple[Invitation, str]:
    """Make a link. The secret is returned here and nowhere else: only its digest is kept.

    With `guest`, whoever joins takes over that guest's row and with it the guest's games.

    Raises:
        NotYoursToDo: not an organiser.
        InvitationRefused: with every reason.
    """
    refuse_unless_organiser(club, by)
    wrong = too_long(Invitation, note=note.strip())
    gives_office = makes_organiser or makes_umpire or makes_quartermaster
    if not 1 <= uses_allowed <= MOST_USES:
        words = _("Between 1 and %(most)s people may join by one link.") % {"most": MOST_USES}
        wrong.append(Violation(words, "uses_allowed", "range"))
    if not 1 <= days <= LONGEST_DAYS:
        words = _("A link is good for 1 to %(most)s days.") % {"most": LONGEST_DAYS}
        wrong.append(Violation(words, "days", "range"))
    if gives_office and uses_allowed > 1:
        wrong.append(Violation(_("A link that gives an office is for one person."), "uses_allowed", "office"))
    if guest is not None and uses_allowed > 1:
        wrong.append(Violation(_("A link for a guest is for one person."), "uses_allowed", "guest"))
    if guest is not None and (guest.club_id != club.pk or not guest.is_guest or guest.left_at is not None):
        wrong.append(Violation(_("Choose a guest of this club."), "guest", "unknown"))
    if wrong:
        raise InvitationRefused(wrong)
    secret = secrets.token_urlsafe(32)
    now = timezone.now()
    invitation = Invitation.objects.create(
        club=club,
        digest=digest_of_secret(secret),
        note=note.strip(),
        guest=guest,
        uses_allowed=uses_allowed,
        makes_organiser=makes_organiser,
        makes_umpire=makes_umpire,
        makes_quartermaster=makes_quartermaster,
        created_by=by,
        created_at=now,
        expires_at=now + timedelta(days=days),
    )
    log_act(club, "invitation_made", invitation, by=by, at=now, note=called(invitation))
    return invitation, secret


@transaction.atomic
def revoke_invitation(invitation: Invitation, *, by: Member) -> Invitation:
    """Close the link. Whoever joined by it stays; revoking twice is revoking once.

    Raises:
        NotYoursToDo: not an organiser.
    """
    refuse_unless_organiser(invitation.club, by)
    now = timezone.now()
    closed = Invitation.objects.filter(pk=invitation.pk, revoked_at=None).update(revoked_at=now)
    invitation.refresh_from_db()
    if closed:
        log_act(invitation.club, "invitation_revoked", invitation, by=by, at=now, note=called(invitation))
    return invitation


def join_by(secret: str, *, user: User, name: str) -> Member:
    """Join the club the link belongs to. A member who joins once more is the member they were, and no use is spent.

    Raises:
        InvitationUnknown: there is no such link.
        InvitationClosed: it lets nobody in any more.
        InvitationRefused: the name is missing or too long.
    """
    invitation = invitation_by(secret)
    if invitation is None:
        raise InvitationUnknown(_("This link is not known. Ask your club for a new one."))
    membership = membership_of(user, invitation.club)
    if membership is not None and membership.left_at is None:
        return membership
    wrong = too_long(Member, name=name.strip())
    if not name.strip() and invitation.guest is None:
        wrong.append(Violation(_("Enter the name your club mates call you."), "name", "missing"))
    if wrong:
        raise InvitationRefused(wrong)
    try:
        return spend(invitation, membership, user=user, name=name.strip(), now=timezone.now())
    except IntegrityError:
        # The other half of a double tap was quicker; its transaction stands and ours, with its use, does not.
        earlier = membership_of(user, invitation.club)
        if earlier is None:
            raise
        return earlier


@transaction.atomic
def spend(invitation: Invitation, membership: Member | None, *, user: User, name: str, now: datetime) -> Member:
    """Take one use and write the member, both or neither."""
    take_use(invitation, now)
    if membership is not None:
        member, act = come_back(membership, name), "member_returned"
    elif invitation.guest is not None:
        member, act = link_guest(invitation.guest, user=user), "member_joined"
    else:
        member = Member.objects.create(club=invitation.club, user=user, name=name, joined_at=now)
        act = "member_joined"
    member.invitation = invitation
    member.is_organiser = invitation.makes_organiser
    member.is_umpire = invitation.makes_umpire
    member.is_quartermaster = invitation.makes_quartermaster
    member.save(update_fields=["invitation", "is_organiser", "is_umpire", "is_quartermaster"])
    log_act(invitation.club, act, member, by=member, at=now, name=member.name)
    return member


def take_use(invitation: Invitation, now: datetime) -> None:
    """Count one use, by one conditional statement: of two who race for the last use, one finds no row left."""
    still_open = Invitation.objects.filter(
        pk=invitation.pk, revoked_at=None, expires_at__gt=now, uses__lt=F("uses_allowed")
    )
    if still_open.update(uses=F("uses") + 1):
        return
    invitation.refresh_from_db()
    raise InvitationClosed(Violation(words_for(state_of(invitation, now)), code=state_of(invitation, now).value))


def come_back(member: Member, name: str) -> Member:
    member.left_at, member.name = None, name or member.name
    member.save(update_fields=["left_at", "name"])
    return member


def called(invitation: Invitation) -> str:
    """What the book calls it: its note, its guest, or its number."""
    return invitation.note or (invitation.guest.name if invitation.guest else f"#{invitation.pk}")


def words_for(state: InvitationState) -> str:
    return {
        InvitationState.REVOKED: _("This link was revoked. Ask your club for a new one."),
        InvitationState.EXPIRED: _("This link has expired. Ask your club for a new one."),
        InvitationState.USED: _("This link is used up. Ask your club for a new one."),
        InvitationState.OPEN: _("This link cannot be used just now. Try again."),
    }[state]
