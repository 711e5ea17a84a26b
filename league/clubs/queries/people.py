"""Who is in a club, and what a stranger may call them."""

from __future__ import annotations

from collections.abc import Iterable

from django.conf import settings
from django.db.models import Prefetch, Q
from django.db.models.functions import Lower
from django.utils.translation import gettext as _

from accounts.models import User
from league.clubs.models import Club, ClubQuerySet, Member, MemberQuerySet

__all__ = [
    "a_club_may_be_opened_by",
    "clubs_of",
    "guests_of",
    "is_junior_anywhere",
    "members_of",
    "membership_of",
    "names_for",
    "organisers_of",
    "public_name",
]


def clubs_of(user: User) -> ClubQuerySet:
    """The person's clubs by name, each with the person's own membership as `mine[0]`."""
    own = Prefetch("members", Member.objects.present().filter(user=user.pk), to_attr="mine")
    return Club.objects.joined_by(user).order_by(Lower("name"), "pk").prefetch_related(own)


def a_club_may_be_opened_by(user: User) -> bool:
    """Whether the person may found a club: the first one, as keeper of the site, or where the site is open to all."""
    return settings.SIGNUP_IS_OPEN or user.is_superuser or not Club.objects.exists()


def members_of(club: Club, *, with_guests: bool = True, with_left: bool = False) -> MemberQuerySet:
    """The people of a club by name; those who left only when asked for."""
    people = Member.objects.filter(club=club)
    if not with_left:
        people = people.present()
    if not with_guests:
        people = people.filter(user__isnull=False)
    return people.order_by(Lower("name"), "pk")


def guests_of(club: Club) -> MemberQuerySet:
    return members_of(club).filter(user=None)


def organisers_of(club: Club) -> MemberQuerySet:
    return members_of(club).filter(is_organiser=True)


def membership_of(user: User, club: Club) -> Member | None:
    """The person's row in the club, whether they are present or left."""
    return Member.objects.filter(club=club, user=user.pk).first()


def is_junior_anywhere(member: Member) -> bool:
    """A person whom any club marked under 18 stays private in every club."""
    same_person = Q(pk=member.pk) if member.user_id is None else Q(user=member.user_id)
    return Member.objects.filter(same_person, is_junior=True).exists()


def public_name(member: Member) -> str:
    """What a visitor who is no member of the club may call this person: one query. For lists use `names_for`."""
    return names_for(None, [member])[member.pk]


def names_for(viewer: Member | None, members: Iterable[Member]) -> dict[int, str]:
    """Each member's name by id, as the viewer may know it: at most one query, whatever the number of members.

    Club mates know each other by name. Anybody else reads the name only of those who allow a public page,
    and "Player 12" of everyone else.
    """
    people = list(members)
    home = viewer.club_id if viewer is not None and viewer.left_at is None else None
    strangers = {each.pk for each in people if each.club_id != home}
    named = (
        set(Member.objects.on_public_pages().filter(pk__in=strangers).values_list("pk", flat=True))
        if strangers
        else set()
    )
    return {
        each.pk: each.name if each.pk not in strangers or each.pk in named else _("Player %(pk)s") % {"pk": each.pk}
        for each in people
    }
