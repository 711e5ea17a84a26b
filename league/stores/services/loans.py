"""Lending: asking, agreeing, handing over, taking back in part, and what comes of it instead.

Agreeing sets the pieces aside, so that they cannot be lent again while they wait to be fetched. Each step happens
once, whoever presses and however often: the second one finds it done.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.clubs.services.texts import too_long
from league.errors import NotYoursToDo, Refused, Violation
from league.stores import permissions
from league.stores.models import Act, Holding, Loan, Movement
from league.stores.queries.balances import Window, balance_of
from league.stores.services.acts import log_holding
from league.stores.services.movements import lock_holding, outstanding, write_line, wrong_with_count

__all__ = [
    "LOST_ACTS",
    "LoanRefused",
    "agree_loan",
    "ask_for",
    "book_lost",
    "hand_over",
    "lend",
    "refuse_loan",
    "take_back",
    "withdraw_loan",
]

LONGEST = timedelta(days=366)
LOST_ACTS = (Act.LOST, Act.BROKEN, Act.USED_UP, Act.GIVEN)


class LoanRefused(Refused):
    """The loan cannot be as it was told."""


@transaction.atomic
def ask_for(
    holding: Holding,
    *,
    count: int,
    due_on: date,
    note: str = "",
    borrower: Member | None = None,
    submission: UUID,
    by: Member,
) -> Loan:
    """Ask whoever keeps a holding to lend pieces of it; `borrower` None: to myself.

    Raises:
        NotYoursToDo: it is one's own, or not to be seen.
        LoanRefused: with every reason; more than is spare until `due_on` is not asked for.
        SubmissionReused: the submission's name came earlier with another request.
    """
    loan, _is_new = ask(
        holding, borrower=borrower or by, count=count, due_on=due_on, note=note, submission=submission, by=by
    )
    return loan


@transaction.atomic
def lend(
    holding: Holding,
    *,
    borrower: Member,
    count: int,
    due_on: date,
    note: str = "",
    is_handed_over: bool = True,
    submission: UUID,
    by: Member,
) -> Loan:
    """Lend pieces without having been asked here: agreed and, as a rule, handed over at once.

    Raises:
        NotYoursToDo: not the holding's keeper.
        LoanRefused: with every reason.
        SubmissionReused: the submission's name came earlier with another loan.
    """
    if not permissions.can_keep_holding(by, lock_holding(holding)):
        raise NotYoursToDo(not_keeper())
    loan, is_new = ask(holding, borrower=borrower, count=count, due_on=due_on, note=note, submission=submission, by=by)
    if is_new:
        agree_loan(loan, by=by)
        if is_handed_over:
            hand_over(loan, by=by)
        loan.refresh_from_db()
    return loan


def ask(
    holding: Holding, *, borrower: Member, count: int, due_on: date, note: str, submission: UUID, by: Member
) -> tuple[Loan, bool]:
    holding = lock_holding(holding)
    note = note.strip()
    digest = digest_of({"holding": holding.pk, "borrower": borrower.pk, "count": count, "due": due_on, "note": note})
    if again := earlier(Loan, submission, digest):
        return again, False
    if not permissions.can_see_holding(by, holding):
        raise NotYoursToDo(_("Only members of the club borrow its members' kit."))
    if by.pk != borrower.pk and not permissions.can_keep_holding(by, holding):
        raise NotYoursToDo(_("Everyone asks for themselves; who keeps the kit also writes down what others borrow."))
    now = timezone.now()
    today = timezone.localdate(now, timezone=holding.club.zone)
    wrong = [
        *wrong_with_borrower(holding, borrower),
        *wrong_with_due(due_on, today),
        *too_long(Loan, note=note),
        *wrong_with_count(count),
        *wrong_with_spare(holding, count, Window(today=today, since=today, until=max(due_on, today))),
    ]
    if wrong:
        raise LoanRefused(wrong)
    facts = {"holding": holding, "borrower": borrower, "count": count, "due_on": due_on, "note": note}
    loan, is_new = write_once(Loan, submission, digest, asked_by=by, asked_at=now, **facts)
    if is_new and by.pk == borrower.pk:
        log_holding(holding, "loan_asked", by=by, at=now, count=count)
    return loan, is_new


@transaction.atomic
def agree_loan(loan: Loan, *, by: Member) -> Loan:
    """Agree to lend: the pieces are set aside from now on.

    Raises:
        NotYoursToDo: not the holding's keeper.
        LoanRefused: it was refused or withdrawn meanwhile, or so many are no longer spare.
    """
    loan, now = lock_loan(loan, by)
    if loan.agreed_at is not None and loan.withdrawn_at is None:
        return loan
    today = timezone.localdate(now, timezone=loan.holding.club.zone)
    window = Window(today=today, since=today, until=max(loan.due_on, today))
    wrong = [*wrong_if_over(loan), *wrong_with_spare(loan.holding, loan.count, window)]
    if loan.holding.retired_at is not None:
        wrong.append(Violation(_("This was put away. Take it out again first."), code="retired"))
    if wrong:
        raise LoanRefused(wrong)
    mark(loan, "agreed", by, now)
    write_line(loan.holding, act=Act.LENT, out_change=loan.count, loan=loan, by=by, at=now)
    log_holding(loan.holding, "loan_agreed", by=by, at=now, count=loan.count)
    return loan


@transaction.atomic
def hand_over(loan: Loan, *, by: Member) -> Loan:
    """The borrower has the pieces in hand.

    Raises:
        NotYoursToDo: not the holding's keeper.
        LoanRefused: it was not agreed, or is over.
    """
    loan, now = lock_loan(loan, by)
    if loan.handed_at is not None:
        return loan
    wrong = wrong_if_over(loan)
    if not wrong and loan.agreed_at is None:
        wrong.append(Violation(_("Agree to lend it first."), code="not_agreed"))
    if wrong:
        raise LoanRefused(wrong)
    mark(loan, "handed", by, now)
    write_line(loan.holding, act=Act.HANDED_OVER, loan=loan, by=by, at=now)
    log_holding(loan.holding, "loan_handed_over", by=by, at=now, count=loan.count)
    return loan


@transaction.atomic
def take_back(loan: Loan, *, count: int, reason: str = "", submission: UUID, by: Member) -> Movement:
    """Pieces came back, all or in part.

    Raises:
        NotYoursToDo: not the holding's keeper.
        LoanRefused: with every reason; more than is out does not come back.
        SubmissionReused: the submission's name came earlier with another return.
    """
    return settle(loan, act=Act.RETURNED, count=count, reason=reason, submission=submission, by=by)


@transaction.atomic
def book_lost(loan: Loan, *, act: str, count: int, reason: str = "", submission: UUID, by: Member) -> Movement:
    """Lent pieces will not come back: lost, broken, used up, or given to the borrower.

    Raises:
        NotYoursToDo: not the holding's keeper.
        LoanRefused: with every reason; more than is out cannot be lost.
        SubmissionReused: the submission's name came earlier with something else.
    """
    return settle(loan, act=act, count=count, reason=reason, submission=submission, by=by)


def settle(loan: Loan, *, act: str, count: int, reason: str, submission: UUID, by: Member) -> Movement:
    loan, now = lock_loan(loan, by)
    reason = reason.strip()
    digest = digest_of({"loan": loan.pk, "act": act, "count": count, "reason": reason})
    if again := earlier(Movement, submission, digest):
        return again
    out = outstanding(loan) if loan.handed_at is not None else 0
    wrong = [*wrong_with_count(count), *too_long(Movement, reason=reason)]
    if act not in (Act.RETURNED, *LOST_ACTS):
        wrong.append(Violation(_("Say what happened to the pieces."), "act", "unknown"))
    if count > out:
        wrong.append(Violation(_("Only %(out)s of this loan are out.") % {"out": out}, "count", "too_many"))
    if wrong:
        raise LoanRefused(wrong)
    change = 0 if act == Act.RETURNED else -count
    line, is_new = write_line(
        loan.holding,
        act=act,
        change=change,
        out_change=-count,
        loan=loan,
        reason=reason,
        by=by,
        at=now,
        submission=submission,
        digest=digest,
    )
    if is_new and act == Act.RETURNED:
        log_holding(loan.holding, "loan_came_back", by=by, at=now, count=count)
    elif is_new:
        log_holding(loan.holding, "loan_lost", by=by, at=now, count=count, what=act)
    return line


@transaction.atomic
def refuse_loan(loan: Loan, *, reason: str = "", by: Member) -> Loan:
    """Say no to a request.

    Raises:
        NotYoursToDo: not the holding's keeper.
        LoanRefused: it was agreed or withdrawn meanwhile, or the reason is too long.
    """
    loan, now = lock_loan(loan, by)
    if loan.refused_at is not None:
        return loan
    wrong = [*wrong_if_over(loan), *too_long(Loan, reason=reason.strip())]
    if loan.agreed_at is not None and loan.withdrawn_at is None:
        wrong.append(Violation(_("This was agreed already. Call it off instead."), code="agreed"))
    if wrong:
        raise LoanRefused(wrong)
    mark(loan, "refused", by, now, reason=reason.strip())
    log_holding(loan.holding, "loan_refused", by=by, at=now, count=loan.count)
    return loan


@transaction.atomic
def withdraw_loan(loan: Loan, *, reason: str = "", by: Member) -> Loan:
    """Call off a loan that was not handed over yet; what was set aside for it is free again.

    Raises:
        NotYoursToDo: neither who asked nor the holding's keeper.
        LoanRefused: it was refused or handed over meanwhile, or the reason is too long.
    """
    loan, now = lock_loan(loan, by, allowed=permissions.can_withdraw_loan)
    if loan.withdrawn_at is not None:
        return loan
    wrong = [*wrong_if_over(loan), *too_long(Loan, reason=reason.strip())]
    if loan.handed_at is not None:
        wrong.append(Violation(_("It was handed over. Take it back instead."), code="handed_over"))
    if wrong:
        raise LoanRefused(wrong)
    mark(loan, "withdrawn", by, now, reason=reason.strip())
    if loan.agreed_at is not None:
        left = outstanding(loan)
        write_line(loan.holding, act=Act.CALLED_OFF, out_change=-left, loan=loan, reason=loan.reason, by=by, at=now)
    log_holding(loan.holding, "loan_withdrawn", by=by, at=now, count=loan.count)
    return loan


def lock_loan(
    loan: Loan, by: Member, *, allowed: Callable[[Member, Loan], bool] = permissions.can_decide_loan
) -> tuple[Loan, datetime]:
    """The loan as it is now; its holding is locked, which every act on a loan waits for."""
    holding = lock_holding(loan.holding)
    locked = Loan.objects.select_related("borrower__user").get(pk=loan.pk)
    locked.holding = holding
    if not allowed(by, locked):
        raise NotYoursToDo(not_keeper())
    return locked, timezone.now()


def mark(loan: Loan, what: str, by: Member, now: datetime, **more: str) -> None:
    facts = {f"{what}_by": by, f"{what}_at": now, **more}
    for name, value in facts.items():
        setattr(loan, name, value)
    loan.save(update_fields=list(facts))


def not_keeper() -> str:
    return _("Only its owner, or for the club's kit a quartermaster, lends this.")


def wrong_if_over(loan: Loan) -> list[Violation]:
    if loan.refused_at is not None:
        return [Violation(_("This was refused. Ask anew."), code="refused")]
    if loan.withdrawn_at is not None:
        return [Violation(_("This was called off. Ask anew."), code="withdrawn")]
    return []


def wrong_with_borrower(holding: Holding, borrower: Member) -> list[Violation]:
    wrong = []
    if borrower.club_id != holding.club_id or borrower.left_at is not None:
        wrong.append(Violation(_("Choose somebody who is in the club."), "borrower", "unknown"))
    if borrower.pk == holding.owner_id:
        wrong.append(Violation(_("Nobody borrows what is their own."), "borrower", "own"))
    if holding.retired_at is not None:
        wrong.append(Violation(_("This was put away and is not lent."), code="retired"))
    return wrong


def wrong_with_due(due_on: date, today: date) -> list[Violation]:
    if due_on < today:
        return [Violation(_("The day to bring it back has passed."), "due_on", "range")]
    if due_on > today + LONGEST:
        return [Violation(_("Lend for at most a year at a time. Check the year."), "due_on", "range")]
    return []


def wrong_with_spare(holding: Holding, count: int, window: Window) -> list[Violation]:
    spare = balance_of(holding, window).spare
    if count <= spare:
        return []
    return [Violation(_("Only %(spare)s of these are spare.") % {"spare": spare}, "count", "too_many")]
