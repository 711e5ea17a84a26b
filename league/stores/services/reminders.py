"""Reminding of what is to come back: by mail where there is an address, and on the borrower's own pages."""

from __future__ import annotations

from django.core.mail import send_mail
from django.db import transaction
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.errors import NotYoursToDo, Violation
from league.stores import permissions
from league.stores.models import Loan
from league.stores.services.acts import log_holding
from league.stores.services.loans import LoanRefused, lock_loan
from league.stores.services.movements import outstanding

__all__ = ["remind_loan"]


@transaction.atomic
def remind_loan(loan: Loan, *, by: Member) -> Loan:
    """Remind a borrower of pieces that are out; once a day at most, so a second press sends nothing.

    Raises:
        NotYoursToDo: not the holding's keeper.
        LoanRefused: nothing of it is out.
    """
    if not permissions.can_remind(by, loan):
        raise NotYoursToDo(_("Only its owner, or for the club's kit a quartermaster, reminds of it."))
    loan, now = lock_loan(loan, by)
    left = outstanding(loan) if loan.handed_at is not None else 0
    if not left:
        raise LoanRefused(Violation(_("Nothing of this loan is out."), code="not_out"))
    zone = loan.holding.club.zone
    if loan.reminded_at is not None and timezone.localdate(loan.reminded_at, zone) == timezone.localdate(now, zone):
        return loan
    loan.reminded_at = now
    loan.save(update_fields=["reminded_at"])
    log_holding(loan.holding, "loan_reminded", by=by, at=now, count=left)
    if loan.borrower.user is not None:
        subject, text = letter(loan, left, by)
        address = loan.borrower.user.email
        transaction.on_commit(lambda: send_mail(subject, text, None, [address]), robust=True)
    return loan


def letter(loan: Loan, left: int, by: Member) -> tuple[str, str]:
    """The subject and the text of a reminder, in plain words."""
    facts = {
        "name": loan.borrower.name,
        "club": loan.holding.club.name,
        "count": left,
        "kind": loan.holding.kind.name,
        "colour": f" ({loan.holding.colour})" if loan.holding.colour else "",
        "due": date_format(loan.due_on),
        "by": by.name,
    }
    subject = _("%(club)s: %(kind)s to bring back by %(due)s") % facts
    text = _(
        "Hello %(name)s,\n\n"
        "you still have %(count)s × %(kind)s%(colour)s on loan, to come back by %(due)s.\n"
        "Please bring them to the next night, or say if you need them longer.\n\n"
        "%(by)s, %(club)s\n"
    )
    return subject, text % facts
