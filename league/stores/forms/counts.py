"""What the page that a label opens asks: how many lie there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from league.stores.queries.labels_page import ShelfLine
from league.web import SubmissionField

__all__ = ["CountForm"]

PREFIX = "counted."


class CountForm(forms.Form):
    """A number for each holding under the label; one left empty was not counted."""

    submission = SubmissionField()
    reason = forms.CharField(
        label=_("If it differs: what explains it?"),
        max_length=200,
        required=False,
        help_text=_("Such as: two rolled under the stove; or: nobody knows."),
    )

    def __init__(self, *args: Any, lines: Sequence[ShelfLine], **options: Any) -> None:
        super().__init__(*args, **options)
        reason = self.fields.pop("reason")
        for line in lines:
            self.fields[f"{PREFIX}{line.holding.pk}"] = forms.IntegerField(
                label=line.what,
                required=False,
                help_text=_("The record says %(there)s.") % {"there": line.there},
                widget=forms.NumberInput({"class": "stepper", "inputmode": "numeric", "autocomplete": "off"}),
            )
        self.fields["reason"] = reason

    def counted(self) -> dict[int, int]:
        return {
            int(name.removeprefix(PREFIX)): number
            for name, number in self.cleaned_data.items()
            if name.startswith(PREFIX) and number is not None
        }
