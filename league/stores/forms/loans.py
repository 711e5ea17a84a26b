"""What the pages about a loan ask."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Member
from league.clubs.queries import members_of
from league.stores.forms.holdings import CountField
from league.stores.models import Act, Holding
from league.web import SubmissionField

__all__ = ["AskForm", "LendForm", "LostForm", "PartForm", "ReasonForm"]


class AskForm(forms.Form):
    submission = SubmissionField()
    count = CountField()
    due_on = forms.DateField(
        label=_("Back by"),
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        error_messages={"required": _("Say when it comes back.")},
    )
    note = forms.CharField(label=_("What for"), max_length=200, required=False)


class LendForm(AskForm):
    borrower = forms.ModelChoiceField(
        label=_("To"),
        queryset=Member.objects.none(),
        empty_label=_("choose"),
        error_messages={"required": _("Choose who borrows it.")},
    )
    field_order = ("borrower", "count", "due_on", "note")

    def __init__(self, *args: Any, holding: Holding, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["borrower"].queryset = members_of(holding.club).exclude(pk=holding.owner_id)


class PartForm(forms.Form):
    """So many of a loan came back."""

    submission = SubmissionField()
    count = CountField(label=_("How many came back"))


class LostForm(forms.Form):
    submission = SubmissionField()
    act = forms.ChoiceField(
        label=_("What happened"),
        choices=[
            (Act.LOST, _("lost")),
            (Act.BROKEN, _("broken")),
            (Act.USED_UP, _("used up")),
            (Act.GIVEN, _("the borrower keeps it, as a gift")),
        ],
        widget=forms.RadioSelect,
        initial=Act.LOST,
    )
    count = CountField()
    reason = forms.CharField(label=_("How it happened"), max_length=200, required=False)


class ReasonForm(forms.Form):
    reason = forms.CharField(label=_("Why"), max_length=200, required=False)
