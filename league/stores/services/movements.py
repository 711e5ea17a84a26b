"""The record of a holding: each line is written once, after the holding is locked, with the balances it leaves."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.clubs.services.texts import too_long
from league.errors import NotYoursToDo, Refused, Violation
from league.stores import permissions
from league.stores.models import Act, Holding, Loan, Movement, ShelfCount
from league.stores.services.acts import log_holding

__all__ = [
    "GAINS",
    "LOSSES",
    "PIECES_MOST",
    "MovementRefused",
    "book_movement",
    "last_line",
    "lock_holding",
    "lock_holdings",
    "write_line",
    "wrong_with_count",
]

PIECES_MOST = 100_000
GAINS = (Act.RECEIVED, Act.BOUGHT, Act.MADE)
LOSSES = (Act.LOST, Act.BROKEN, Act.USED_UP, Act.GIVEN)


class MovementRefused(Refused):
    """What was to be booked cannot have happened as it was told."""


@transaction.atomic
def book_movement(
    holding: Holding, *, act: str, count: int, reason: str = "", submission: UUID, by: Member
) -> Movement:
    """Book that pieces came (received, bought, made) or went (lost, broken, used up, given away).

    Raises:
        NotYoursToDo: neither the owner nor, for the club's and guests' kit, who keeps it.
        MovementRefused: with every reason; more than lie there cannot go.
        SubmissionReused: the submission's name came earlier with another movement.
    """
    holding = lock_holding(holding)
    if not permissions.can_keep_holding(by, holding):
        raise NotYoursToDo(_("Only its owner, or for the club's kit a quartermaster, books what came and went."))
    reason = reason.strip()
    digest = digest_of({"holding": holding.pk, "act": act, "count": count, "reason": reason})
    if again := earlier(Movement, submission, digest):
        return again
    last = last_line(holding)
    held, out = (last.held_after, last.out_after) if last else (0, 0)
    wrong = [*wrong_with_count(count), *too_long(Movement, reason=reason)]
    if act not in (*GAINS, *LOSSES):
        wrong.append(Violation(_("Say what happened to the pieces."), "act", "unknown"))
    if holding.retired_at is not None and act in GAINS:
        wrong.append(Violation(_("This was put away. Take it out again first."), code="retired"))
    if act in GAINS and held + count > PIECES_MOST:
        words = _("A holding has at most %(most)s pieces.") % {"most": PIECES_MOST}
        wrong.append(Violation(words, "count", "range"))
    if act in LOSSES and count > held - out:
        words = _("Only %(there)s lie there: %(held)s held, %(out)s lent.") % {
            "there": held - out,
            "held": held,
            "out": out,
        }
        wrong.append(Violation(words, "count", "too_many"))
    if wrong:
        raise MovementRefused(wrong)
    now = timezone.now()
    change = count if act in GAINS else -count
    line, is_new = write_line(
        holding, act=act, change=change, reason=reason, by=by, at=now, submission=submission, digest=digest
    )
    if is_new:
        log_holding(holding, "kit_moved", by=by, at=now, change=f"{change:+d}", what=act)
    return line


def lock_holding(holding: Holding) -> Holding:
    """The holding as it is now, kept by this transaction until its end (where the database locks rows)."""
    locked: Holding = (
        Holding.objects.select_for_update(of=("self",), no_key=True)
        .select_related("club", "kind", "owner")
        .get(pk=holding.pk)
    )
    return locked


def lock_holdings(pks: Iterable[int]) -> list[Holding]:
    """Several at once, in the order of their numbers, so that two such acts never wait for each other."""
    rows = Holding.objects.filter(pk__in=set(pks)).select_related("club", "kind", "owner").order_by("pk")
    return list(rows.select_for_update(of=("self",), no_key=True))


def last_line(holding: Holding) -> Movement | None:
    return Movement.objects.filter(holding=holding).order_by("-sequence").first()


def write_line(
    holding: Holding,
    *,
    act: str,
    change: int = 0,
    out_change: int = 0,
    loan: Loan | None = None,
    shelf_count: ShelfCount | None = None,
    reason: str = "",
    by: Member,
    at: datetime,
    submission: UUID | None = None,
    digest: str = "",
) -> tuple[Movement, bool]:
    """The next line of a locked holding's record, and whether it is new. Who calls has looked at the rules.

    Raises:
        IntegrityError: a balance would leave its bounds; the database has the last word.
    """
    last = last_line(holding)
    facts: dict[str, Any] = {
        "holding": holding,
        "sequence": last.sequence + 1 if last else 1,
        "act": act,
        "change": change,
        "out_change": out_change,
        "held_after": (last.held_after if last else 0) + change,
        "out_after": (last.out_after if last else 0) + out_change,
        "loan": loan,
        "loan_out_after": None if loan is None else outstanding(loan) + out_change,
        "shelf_count": shelf_count,
        "reason": reason,
        "by": by,
        "at": at,
    }
    return write_once(Movement, submission or uuid4(), digest, **facts)


def outstanding(loan: Loan) -> int:
    """Pieces of the loan that are set aside or out, by the last line of its record."""
    last = Movement.objects.filter(loan=loan).order_by("-sequence").values_list("loan_out_after", flat=True).first()
    return last or 0


def wrong_with_count(count: int, field: str = "count") -> list[Violation]:
    if 1 <= count <= PIECES_MOST:
        return []
    return [Violation(_("Give a number from 1 to %(most)s.") % {"most": PIECES_MOST}, field, "range")]
