"""Asking, lending, handing over, taking back: each one press."""

from __future__ import annotations

from typing import Any

from django.forms import Form
from django.utils import timezone
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView

from league.stores import permissions
from league.stores.forms.loans import AskForm, LendForm, LostForm, PartForm, ReasonForm
from league.stores.models import Loan, Movement
from league.stores.queries.cautions import cautions_of
from league.stores.queries.holding_words import what_of
from league.stores.queries.loans_page import due_by, loan_page, loans_page
from league.stores.services.loans import (
    agree_loan,
    ask_for,
    book_lost,
    hand_over,
    lend,
    refuse_loan,
    take_back,
    withdraw_loan,
)
from league.stores.services.reminders import remind_loan
from league.stores.views.rows import InStores, KitAct, KitForm, OnHolding, OnLoan

__all__ = [
    "LoanAgree",
    "LoanBack",
    "LoanHandOver",
    "LoanLend",
    "LoanLost",
    "LoanNew",
    "LoanPage",
    "LoanRefuse",
    "LoanRemind",
    "LoanWithdraw",
    "LoansPage",
]


class LoansPage(InStores, TemplateView):
    template_name = "stores/loans.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        page = loans_page(self.member, today=timezone.localdate())
        return super().get_context_data(page=page, title=_now("Loans"), **context)


class LoanPage(OnLoan, TemplateView):
    template_name = "stores/loan.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        page = loan_page(self.loan, self.member, today=timezone.localdate())
        back = PartForm(initial={"count": page.line.outstanding})
        return super().get_context_data(page=page, back=back, title=page.line.what, **context)


class OfHolding(OnHolding, KitForm):
    """A new loan of a holding."""

    def get_initial(self) -> dict[str, Any]:
        given = {name: self.request.GET[name] for name in ("count", "due_on") if name in self.request.GET}
        return {"due_on": due_by(self.member, today=timezone.localdate()), **given}

    def back_to(self) -> str:
        return OnHolding.get_success_url(self)

    def get_success_url(self) -> str:
        return self.path_to("loan", pk=self.result.pk)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        cautions = cautions_of([self.holding.kind])
        return super().get_context_data(intro=what_of(self.holding), cautions=cautions, **context)


class LoanNew(OfHolding):
    form_class = AskForm
    template_name = "stores/loan_form.html"
    title = _("Ask to borrow")
    button = _("Ask")
    done_message = _("You have asked. You see the answer under Loans.")

    def allows(self) -> bool:
        return permissions.can_ask_for(self.member, self.holding)

    def act(self, form: Form) -> Loan:
        return ask_for(self.holding, **form.cleaned_data, by=self.member)


class LoanLend(OfHolding):
    """Lent in the hall without having been asked here first."""

    form_class = LendForm
    template_name = "stores/loan_form.html"
    title = _("Lend it")
    button = _("Lent and handed over")
    done_message = _("The loan is written down.")

    def allows(self) -> bool:
        return permissions.can_keep_holding(self.member, self.holding)

    def get_form_kwargs(self) -> dict[str, Any]:
        return {"holding": self.holding, **super().get_form_kwargs()}

    def act(self, form: Form) -> Loan:
        return lend(self.holding, **form.cleaned_data, by=self.member)


class LoanAgree(OnLoan, KitAct):
    done_message = _("Agreed. The pieces are set aside.")

    def act(self) -> Loan:
        return agree_loan(self.loan, by=self.member)


class LoanHandOver(OnLoan, KitAct):
    done_message = _("Handed over.")

    def act(self) -> Loan:
        return hand_over(self.loan, by=self.member)


class LoanRemind(OnLoan, KitAct):
    done_message = _("Reminded.")

    def act(self) -> Loan:
        return remind_loan(self.loan, by=self.member)


class DecideLoan(OnLoan, KitForm):
    def allows(self) -> bool:
        return permissions.can_decide_loan(self.member, self.loan)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(intro=what_of(self.loan.holding), **context)


class LoanBack(DecideLoan):
    form_class = PartForm
    title = _("What came back?")
    button = _("Came back")
    done_message = _("It is back.")

    def get_initial(self) -> dict[str, Any]:
        return {"count": self.loan.outstanding}

    def act(self, form: Form) -> Movement:
        return take_back(self.loan, **form.cleaned_data, by=self.member)


class LoanLost(DecideLoan):
    form_class = LostForm
    title = _("What will not come back?")
    button = _("Write it down")
    done_message = _("It is written down.")

    def get_initial(self) -> dict[str, Any]:
        return {"count": self.loan.outstanding}

    def act(self, form: Form) -> Movement:
        return book_lost(self.loan, **form.cleaned_data, by=self.member)


class LoanRefuse(DecideLoan):
    form_class = ReasonForm
    title = _("Not this time?")
    button = _("Do not lend it")
    done_message = _("The answer is written down.")

    def act(self, form: Form) -> Loan:
        return refuse_loan(self.loan, **form.cleaned_data, by=self.member)


class LoanWithdraw(OnLoan, KitForm):
    form_class = ReasonForm
    title = _("Call the loan off?")
    button = _("Call it off")
    done_message = _("The loan is called off.")

    def allows(self) -> bool:
        return permissions.can_withdraw_loan(self.member, self.loan)

    def act(self, form: Form) -> Loan:
        return withdraw_loan(self.loan, **form.cleaned_data, by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(intro=what_of(self.loan.holding), **context)
