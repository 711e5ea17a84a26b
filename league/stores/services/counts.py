"""Counting what lies under one label: each difference is booked, with a reason."""

from __future__ import annotations

from collections.abc import Mapping
from uuid import UUID

from django.db import transaction
from django.db.models import Sum
from django.utils import timezone
from django.utils.translation import gettext as _

from league.clubs.models import Club, Member
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.clubs.services.texts import too_long
from league.errors import NotYoursToDo, Refused, Violation
from league.stores import permissions
from league.stores.models import Act, Holding, Movement, ShelfCount
from league.stores.services.acts import log_act
from league.stores.services.movements import PIECES_MOST, last_line, lock_holdings, write_line

__all__ = ["CountRefused", "count_shelf"]


class CountRefused(Refused):
    """The count cannot be as it was told."""


@transaction.atomic
def count_shelf(
    club: Club, *, label: str, counted: Mapping[int, int], reason: str = "", submission: UUID, by: Member
) -> ShelfCount:
    """Book what was counted of holdings under a label, by the holding's id: the pieces that lie there.

    Pieces that are out on loan are not expected on the shelf; those set aside for a loan are. Every holding counted
    gets a line in its record, one that agrees as well. A holding of the shelf that is not named was not counted.

    Raises:
        NotYoursToDo: some of it is not this member's to count.
        CountRefused: with every reason; a difference without a reason is one.
        SubmissionReused: the submission's name came earlier with another count.
    """
    reason = reason.strip()
    digest = digest_of(
        {"club": club.pk, "label": label, "counted": {str(k): v for k, v in counted.items()}, "why": reason}
    )
    shelf = Holding.objects.filter(club=club, label=label, retired_at=None)
    holdings = lock_holdings(shelf.filter(pk__in=counted).values_list("pk", flat=True))
    if again := earlier(ShelfCount, submission, digest):
        return again
    if by.club_id != club.pk or not all(permissions.can_count(by, each) for each in holdings):
        raise NotYoursToDo(_("Only its owner counts a member's kit; the club's is for everybody to count."))
    there = {each.pk: lying_there(each) for each in holdings}
    differs = [each for each in holdings if counted[each.pk] != there[each.pk][0]]
    wrong = [*wrong_with_counts(counted, there), *too_long(ShelfCount, reason=reason)]
    if differs and not reason:
        wrong.append(Violation(_("Say what explains the difference, or that nobody knows."), "reason", "missing"))
    if wrong:
        raise CountRefused(wrong)
    now = timezone.now()
    count, is_new = write_once(ShelfCount, submission, digest, club=club, label=label, reason=reason, by=by, at=now)
    if not is_new:
        return count
    for each in holdings:
        change = counted[each.pk] - there[each.pk][0]
        words = reason if change else ""
        write_line(each, act=Act.COUNTED, change=change, shelf_count=count, reason=words, by=by, at=now)
    if not any(each.is_private for each in holdings):
        log_act(club, "shelf_counted", count, by=by, at=now, holdings=len(holdings), differences=len(differs))
    return count


def lying_there(holding: Holding) -> tuple[int, int]:
    """Pieces that the record says lie on the shelf, and how many of them are set aside for loans."""
    last = last_line(holding)
    if last is None:
        return 0, 0
    waiting = Movement.objects.filter(holding=holding, loan__handed_at=None, loan__withdrawn_at=None)
    aside = waiting.aggregate(pieces=Sum("out_change"))["pieces"] or 0
    return last.held_after - last.out_after + aside, aside


def wrong_with_counts(counted: Mapping[int, int], there: Mapping[int, tuple[int, int]]) -> list[Violation]:
    if not counted:
        return [Violation(_("Count at least one of the holdings."), "counted", "missing")]
    wrong = []
    for pk, pieces in counted.items():
        field = f"counted.{pk}"
        if pk not in there:
            wrong.append(Violation(_("This does not lie under the label."), field, "unknown"))
        elif not 0 <= pieces <= PIECES_MOST:
            words = _("Give a number from 0 to %(most)s.") % {"most": PIECES_MOST}
            wrong.append(Violation(words, field, "range"))
        elif pieces < there[pk][1]:
            words = _("%(aside)s are set aside for a loan. Call it off first if they are gone.")
            wrong.append(Violation(words % {"aside": there[pk][1]}, field, "set_aside"))
    return wrong
