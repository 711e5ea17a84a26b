"""Opening a club and describing it."""

from __future__ import annotations

import re
from dataclasses import replace
from zoneinfo import available_timezones

from django.conf import settings
from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from accounts.models import User
from league.clubs.models import Club, Member
from league.clubs.queries.people import a_club_may_be_opened_by
from league.clubs.services.log import log_act
from league.clubs.services.rights import refuse_unless_organiser
from league.clubs.services.texts import too_long
from league.errors import Refused, Violation

__all__ = ["ClubRefused", "OpeningRefused", "change_club", "found_club", "open_club"]

SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
RESERVED = {"new"}  # /clubs/new/ is the form itself


class ClubRefused(Refused):
    """The club's facts are not in order."""


class OpeningRefused(Refused):
    """This person may not found a club on this site."""

    status = 403


@transaction.atomic
def open_club(user: User, *, name: str, slug: str, member_name: str) -> Club:
    """Found a club; the founder is its first organiser. The same request once more returns the same club.

    Raises:
        OpeningRefused: the site lets only its keeper found further clubs.
        ClubRefused: a name is missing, or the address is taken or no address.
    """
    name, slug, member_name = name.strip(), slug.strip().lower(), member_name.strip()
    earlier = Club.objects.filter(slug=slug, name=name, members__user=user, members__is_organiser=True).first()
    if earlier is not None:
        return earlier
    if not a_club_may_be_opened_by(user):
        raise OpeningRefused(_("New clubs are opened by the keeper of this site. Ask for an invitation to yours."))
    return found_club(user, name=name, slug=slug, member_name=member_name)


@transaction.atomic
def found_club(user: User, *, name: str, slug: str, member_name: str) -> Club:
    """Found a club for somebody, by the keeper of the site: from the shell, whoever else may.

    Raises:
        ClubRefused: a name is missing, or the address is taken or no address.
    """
    name, slug, member_name = name.strip(), slug.strip().lower(), member_name.strip()
    wrong = [*wrong_with_slug(slug), *too_long(Club, name=name)]
    wrong += [replace(each, field="member_name") for each in too_long(Member, name=member_name)]
    if not name:
        wrong.append(Violation(_("Enter the club's name."), "name", "missing"))
    if not member_name:
        wrong.append(Violation(_("Enter the name your club mates call you."), "member_name", "missing"))
    if wrong:
        raise ClubRefused(wrong)
    now = timezone.now()
    try:
        with transaction.atomic():
            club = Club.objects.create(name=name, slug=slug, time_zone=settings.TIME_ZONE)
    except IntegrityError:
        # Two clubs chose one address at once and the other one was quicker.
        raise ClubRefused(wrong_with_slug(slug)) from None
    founder = Member.objects.create(club=club, user=user, name=member_name, is_organiser=True, joined_at=now)
    log_act(club, "club_opened", club, by=founder, at=now)
    return club


@transaction.atomic
def change_club(club: Club, *, name: str, about: str, time_zone: str, is_public: bool, by: Member) -> Club:
    """Describe the club anew. Its address stays: links to it are on phones and walls.

    Raises:
        NotYoursToDo: not an organiser.
        ClubRefused: the name is missing or the time zone is unknown.
    """
    refuse_unless_organiser(club, by)
    wrong = too_long(Club, name=name.strip(), about=about.strip())
    if not name.strip():
        wrong.append(Violation(_("Enter the club's name."), "name", "missing"))
    if time_zone not in available_timezones():
        wrong.append(Violation(_("Choose a time zone such as Europe/London."), "time_zone", "unknown"))
    if wrong:
        raise ClubRefused(wrong)
    club.name, club.about, club.time_zone, club.is_public = name.strip(), about.strip(), time_zone, is_public
    club.save(update_fields=["name", "about", "time_zone", "is_public"])
    log_act(club, "club_changed", club, by=by, is_public=is_public)
    return club


def lock_club(club: Club) -> None:
    """Let acts that count what a club has, its people or its tables, go one after another."""
    Club.objects.select_for_update(no_key=True).get(pk=club.pk)


def wrong_with_slug(slug: str) -> list[Violation]:
    if not slug:
        return [Violation(_("Enter an address for the club, such as weir-street."), "slug", "missing")]
    if wrong := too_long(Club, slug=slug):
        return wrong
    if not SLUG.fullmatch(slug):
        return [Violation(_("An address is made of small letters, digits and single hyphens."), "slug", "malformed")]
    if slug in RESERVED or Club.objects.filter(slug=slug).exists():
        return [Violation(_("This address is taken. Choose another."), "slug", "taken")]
    return []
