"""What the pages about loans show: what waits for one's own answer, what is out, what is overdue."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Q
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.clubs.queries import next_night
from league.stores import permissions
from league.stores.models import Loan, LoanState
from league.stores.queries.cautions import Caution, cautions_of
from league.stores.queries.holding_words import WITH_WORDS, what_of

__all__ = ["LoanLine", "LoanPage", "LoansPage", "due_by", "loan_page", "loans_page", "loans_waiting_for"]

OPEN = (LoanState.ASKED, LoanState.AGREED, LoanState.OUT)
PAST_MOST = 20


@dataclass(frozen=True, kw_only=True, slots=True)
class LoanLine:
    """A loan as one of the two sees it. `days_over` is 0 unless it is out beyond its day."""

    loan: Loan
    what: str
    state: str
    outstanding: int
    days_over: int

    @property
    def state_words(self) -> str:
        if self.days_over:
            return _("overdue")
        return str(LoanState(self.state).label)

    @property
    def words(self) -> str:
        facts = {"name": self.loan.borrower.name, "count": self.loan.count, "what": self.what}
        if self.state == LoanState.ASKED:
            return _("%(name)s asks for %(count)s × %(what)s") % facts
        return _("%(name)s: %(count)s × %(what)s") % facts


@dataclass(frozen=True, kw_only=True, slots=True)
class LoansPage:
    """`to_answer`: asked of me. `lent`: agreed and out. `borrowed`: what I asked for or have. `past`: over and done."""

    to_answer: tuple[LoanLine, ...]
    lent: tuple[LoanLine, ...]
    borrowed: tuple[LoanLine, ...]
    past: tuple[LoanLine, ...]

    @property
    def overdue(self) -> tuple[LoanLine, ...]:
        return tuple(line for line in (*self.lent, *self.borrowed) if line.days_over)


@dataclass(frozen=True, kw_only=True, slots=True)
class LoanPage:
    """`may_*` tell which buttons the reader gets."""

    line: LoanLine
    cautions: tuple[Caution, ...]
    may_decide: bool
    may_withdraw: bool
    may_remind: bool


def line_of(loan: Any, today: date) -> LoanLine:
    over = loan.state == LoanState.OUT and loan.due_on < today
    return LoanLine(
        loan=loan,
        what=what_of(loan.holding),
        state=loan.state,
        outstanding=loan.outstanding,
        days_over=(today - loan.due_on).days if over else 0,
    )


def kept_by(member: Member) -> Q:
    """Loans of holdings that the member keeps; the same people as `permissions.can_keep_holding`."""
    mine = Q(holding__owner=member) | Q(holding__owner=None, holding__keeper=member)
    if permissions.can_keep_stores(member, member.club):
        mine |= Q(holding__owner=None) | Q(holding__owner__user=None)
    return mine


def loans_of(member: Member) -> Any:
    """The loans of the member's club with their `state`, the next to come back first."""
    words = [f"holding__{each}" for each in ("club", *WITH_WORDS)]
    rows = Loan.objects.filter(holding__club=member.club_id).with_state().select_related("borrower", *words)
    return rows.order_by("due_on", "pk")


def loans_page(member: Member, *, today: date) -> LoansPage:
    """Everything open in two queries, and the latest of what is over in a third."""
    of_mine = loans_of(member).filter(kept_by(member)).exclude(borrower=member)
    kept = [line_of(loan, today) for loan in of_mine.filter(state__in=OPEN)]
    own = loans_of(member).filter(borrower=member, state__in=OPEN)
    past = loans_of(member).filter(kept_by(member) | Q(borrower=member)).exclude(state__in=OPEN)
    return LoansPage(
        to_answer=tuple(line for line in kept if line.state == LoanState.ASKED),
        lent=tuple(line for line in kept if line.state != LoanState.ASKED),
        borrowed=tuple(line_of(loan, today) for loan in own),
        past=tuple(line_of(loan, today) for loan in past.order_by("-pk")[:PAST_MOST]),
    )


def loans_waiting_for(member: Member, *, today: date) -> tuple[LoanLine, ...]:
    """What a member should do something about: requests to answer, and what they borrowed and is overdue."""
    page = loans_page(member, today=today)
    return (*page.to_answer, *(line for line in page.borrowed if line.days_over))


def loan_page(loan: Loan, member: Member | None, *, today: date) -> LoanPage:
    line = line_of(loan, today)
    return LoanPage(
        line=line,
        cautions=tuple(cautions_of([loan.holding.kind])),
        may_decide=permissions.can_decide_loan(member, loan),
        may_withdraw=line.state in (LoanState.ASKED, LoanState.AGREED) and permissions.can_withdraw_loan(member, loan),
        may_remind=bool(line.days_over) and permissions.can_remind(member, loan),
    )


def due_by(member: Member, *, today: date) -> date:
    """By when a loan is back unless somebody says otherwise: the club's next night, or today."""
    night = next_night(member.club, today)
    return night.on if night else today
