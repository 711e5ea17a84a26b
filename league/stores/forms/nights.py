"""What the pages about a night's kit ask."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from league.stores.forms.holdings import CountField
from league.stores.forms.kinds import MoneyField
from league.stores.models import Carrying
from league.web import SubmissionField

__all__ = ["BudgetForm", "CarryForm", "PartForm", "PromiseForm"]


class BudgetForm(forms.Form):
    """Sent by GET. Nothing typed: no limit."""

    budget = MoneyField(
        label=_("We may spend, in pounds"),
        required=False,
        # A box for numbers would not show again what was typed and is none.
        widget=forms.TextInput(attrs={"size": 8}),
        error_messages={
            "invalid": _("Enter pounds and pence, such as 12.50."),
            "min_value": _("Enter nothing or more."),
        },
    )


class CarryForm(forms.Form):
    room = forms.ChoiceField(
        label=_("I can carry"),
        choices=[*Carrying.Room.choices, ("", _("I would rather not say"))],
        required=False,
        widget=forms.RadioSelect,
    )


class PartForm(forms.Form):
    """One press: what the plan asks of me, I bring."""

    submission = SubmissionField()


class PromiseForm(forms.Form):
    submission = SubmissionField()
    count = CountField()
