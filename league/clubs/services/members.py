"""The people of a club: guests, offices, juniors, privacy, leaving."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from accounts.models import User
from league.clubs.models import Club, Member
from league.clubs.permissions import can_change_privacy, can_remove, can_rename, can_see_guardian
from league.clubs.queries.people import is_junior_anywhere, organisers_of
from league.clubs.services.clubs import lock_club
from league.clubs.services.log import log_act
from league.clubs.services.rights import refuse_unless_organiser
from league.clubs.services.texts import too_long
from league.errors import NotYoursToDo, Refused, Violation

__all__ = [
    "MemberRefused",
    "add_guest",
    "change_name",
    "change_offices",
    "change_privacy",
    "leave_club",
    "link_guest",
    "mark_junior",
    "write_down_guests",
]


# What acts on a person decide by; looked at anew once they hold the lock.
STANDING = ["left_at", "is_organiser", "is_umpire", "is_quartermaster", "is_junior"]


class MemberRefused(Refused):
    """What was asked about a person of the club is not possible."""


@transaction.atomic
def add_guest(club: Club, *, name: str, by: Member) -> Member:
    """Write down a person without an account. A present guest of that name is returned as they are.

    Raises:
        NotYoursToDo: not an organiser.
        MemberRefused: the name is missing or too long, or a member bears it.
    """
    refuse_unless_organiser(club, by)
    name = name.strip()
    wrong = too_long(Member, name=name)
    if not name:
        wrong.append(Violation(_("Enter the guest's name."), "name", "missing"))
    if wrong:
        raise MemberRefused(wrong)
    lock_club(club)
    namesake = Member.objects.present().filter(club=club, name__iexact=name).order_by("user", "pk").first()
    if namesake is not None and namesake.is_guest:
        return namesake
    if namesake is not None:
        taken = _("%(name)s is a member already. Add something to the name to tell the two apart.")
        raise MemberRefused(Violation(taken % {"name": namesake.name}, "name", "taken"))
    now = timezone.now()
    guest = Member.objects.create(club=club, name=name, joined_at=now)
    log_act(club, "guest_added", guest, by=by, at=now, name=name)
    return guest


def write_down_guests(club: Club, names: Iterable[str], *, at: datetime) -> list[Member]:
    """Guests by the names a file gave, several of one name where it has several; a part of the act that reads it.

    That act asks who may, holds the club by `lock_club` and writes its own line in the book.
    """
    return Member.objects.bulk_create(Member(club=club, name=name, joined_at=at) for name in names)


@transaction.atomic
def change_name(member: Member, *, name: str, by: Member) -> Member:
    """Change the name a person bears in the club.

    Raises:
        NotYoursToDo: somebody else's name, and not an organiser.
        MemberRefused: the name is missing or too long, or the person left.
    """
    if not can_rename(by, member):
        raise NotYoursToDo(_("Everyone names themselves; organisers also correct the names of others."))
    name = name.strip()
    wrong = [*wrong_with_absence(member), *too_long(Member, name=name)]
    if not name:
        wrong.append(Violation(_("Enter a name."), "name", "missing"))
    if wrong:
        raise MemberRefused(wrong)
    old = member.name
    if old == name:
        return member
    member.name = name
    member.save(update_fields=["name"])
    log_act(member.club, "name_changed", member, by=by, old=old, new=name)
    return member


@transaction.atomic
def change_offices(
    member: Member, *, is_organiser: bool, is_umpire: bool, is_quartermaster: bool, by: Member
) -> Member:
    """Give and take offices; one person may hold several.

    Raises:
        NotYoursToDo: not an organiser.
        MemberRefused: a guest or a person who left would hold an office, or the club would lose its last organiser.
    """
    refuse_unless_organiser(member.club, by)
    lock_club(member.club)
    member.refresh_from_db(fields=STANDING)
    wrong = wrong_with_absence(member)
    if member.is_guest and (is_organiser or is_umpire or is_quartermaster):
        no_account = _("A guest has no account and holds no office. Invite %(name)s first.")
        wrong.append(Violation(no_account % {"name": member.name}, code="guest"))
    if not is_organiser:
        wrong += wrong_with_losing(member)
    if wrong:
        raise MemberRefused(wrong)
    member.is_organiser, member.is_umpire, member.is_quartermaster = is_organiser, is_umpire, is_quartermaster
    member.save(update_fields=["is_organiser", "is_umpire", "is_quartermaster"])
    offices = ", ".join(str(role.value) for role in member.roles)
    log_act(member.club, "offices_changed", member, by=by, name=member.name, offices=offices)
    return member


@transaction.atomic
def mark_junior(member: Member, *, is_junior: bool, guardian_contact: str, by: Member) -> Member:
    """Mark a person as under 18, or as grown up. Marking closes every public page about them at once.

    The guardian's contact is kept only while the mark stands, and never enters the book of acts.

    Raises:
        NotYoursToDo: not an organiser.
    """
    if not can_see_guardian(by, member):
        raise NotYoursToDo(_("Only the club's organisers mark somebody as under 18."))
    lock_club(member.club)
    member.refresh_from_db(fields=STANDING)
    changes_mark = member.is_junior != is_junior
    contact = guardian_contact.strip() if is_junior else ""
    if wrong := too_long(Member, guardian_contact=contact):
        raise MemberRefused(wrong)
    member.is_junior, member.guardian_contact = is_junior, contact
    if is_junior:
        member.shows_page = member.shows_results = member.shows_rosters = False
    member.save(update_fields=["is_junior", "guardian_contact", "shows_page", "shows_results", "shows_rosters"])
    act = ("junior_marked" if is_junior else "junior_unmarked") if changes_mark else "guardian_changed"
    log_act(member.club, act, member, by=by, name=member.name)
    return member


@transaction.atomic
def change_privacy(member: Member, *, shows_page: bool, shows_results: bool, shows_rosters: bool, by: Member) -> Member:
    """What strangers may see of a person. Results and rosters are shown on the page, so without it neither is.

    Raises:
        NotYoursToDo: somebody else's privacy.
        MemberRefused: a club marked the person as under 18, a guest has no say, or they left.
    """
    if not can_change_privacy(by, member):
        raise NotYoursToDo(_("What strangers see of a person only that person says."))
    lock_club(member.club)
    member.refresh_from_db(fields=STANDING)
    wrong = wrong_with_absence(member)
    if (shows_page or shows_results or shows_rosters) and is_junior_anywhere(member):
        words = _(
            "You are marked as under 18, so everything about you stays private. An organiser can change the mark."
        )
        wrong.append(Violation(words, "shows_page", "junior"))
    if member.is_guest:
        wrong.append(Violation(_("A guest has no account and so no public page."), code="guest"))
    if wrong:
        raise MemberRefused(wrong)
    member.shows_page = shows_page
    member.shows_results = shows_page and shows_results
    member.shows_rosters = shows_page and shows_rosters
    member.save(update_fields=["shows_page", "shows_results", "shows_rosters"])
    log_act(member.club, "privacy_changed", member, by=by, name=member.name)
    return member


@transaction.atomic
def leave_club(member: Member, *, by: Member) -> Member:
    """Leave, or take somebody off the list. Games and results stay; offices and a guardian's contact go.

    The second arrival of the same request finds the person gone and changes nothing.

    Raises:
        NotYoursToDo: somebody else, and not an organiser.
        MemberRefused: the club would lose its last organiser.
    """
    if not can_remove(by, member):
        raise NotYoursToDo(_("Everyone may leave; only organisers take others off the list."))
    lock_club(member.club)
    member.refresh_from_db()
    if member.left_at is not None:
        return member
    wrong = wrong_with_losing(member)
    if wrong:
        raise MemberRefused(wrong)
    now = timezone.now()
    member.left_at = now
    member.is_organiser = member.is_umpire = member.is_quartermaster = False
    member.shows_page = member.shows_results = member.shows_rosters = False
    member.guardian_contact = ""
    member.save(
        update_fields=[
            "left_at",
            "is_organiser",
            "is_umpire",
            "is_quartermaster",
            "shows_page",
            "shows_results",
            "shows_rosters",
            "guardian_contact",
        ]
    )
    act = "member_left" if by.pk == member.pk else "member_removed"
    log_act(member.club, act, member, by=by, at=now, name=member.name)
    return member


@transaction.atomic
def link_guest(guest: Member, *, user: User, by: Member | None = None) -> Member:
    """Make the guest the member this person is: one row, so that the guest's games stay theirs.

    Raises:
        MemberRefused: the row is no present guest any more, or the person is in the club already.
    """
    wrong = []
    if Member.objects.filter(club=guest.club_id, user=user).exists():
        wrong.append(Violation(_("This person is in the club already."), code="member"))
    # The condition stands in the statement: of two who claim one guest at once, one finds no row left.
    if not wrong and not Member.objects.present().filter(pk=guest.pk, user=None).update(user=user):
        wrong.append(Violation(_("%(name)s is no guest any more.") % {"name": guest.name}, code="no_guest"))
    if wrong:
        raise MemberRefused(wrong)
    guest.refresh_from_db()
    log_act(guest.club, "guest_joined", guest, by=by or guest, name=guest.name)
    return guest


def wrong_with_absence(member: Member) -> list[Violation]:
    if member.left_at is None:
        return []
    return [Violation(_("%(name)s has left the club.") % {"name": member.name}, code="left")]


def wrong_with_losing(member: Member) -> list[Violation]:
    """What speaks against this person no longer being an organiser."""
    organisers = organisers_of(member.club)
    if not organisers.filter(pk=member.pk).exists() or organisers.exclude(pk=member.pk).exists():
        return []
    words = _("%(name)s is the last organiser. Make somebody else organiser first.")
    return [Violation(words % {"name": member.name}, "is_organiser", "last_organiser")]
