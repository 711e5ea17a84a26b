"""The forms of one or two fields."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.battles.models import Ruling
from league.battles.queries.choices import RosterChoice
from league.battles.queries.report_page import Fallen
from league.web import SubmissionField

__all__ = ["DiceField", "DiceForm", "DisputeForm", "PhotoForm", "RostersForm", "SettleForm"]


class DisputeForm(forms.Form):
    text = forms.CharField(
        label=_("What is wrong?"),
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 4}),
        error_messages={"required": _("Say what is wrong.")},
    )


class SettleForm(forms.Form):
    verdict = forms.ChoiceField(
        label=_("Your ruling"),
        choices=Ruling.Verdict.choices,
        widget=forms.RadioSelect,
        error_messages={"required": _("Choose whether the report stands.")},
    )
    text = forms.CharField(
        label=_("Why?"),
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 4}),
        error_messages={"required": _("Say why.")},
    )


class DiceField(forms.CharField):
    """Dice as they lie on the table, “4 2 6”; spaces, commas and plus signs between them as one likes."""

    def to_python(self, value: Any) -> list[int]:
        words = [word for word in re.split(r"[\s,;+]+", super().to_python(value)) if word]
        if not all(word.isascii() and word.isdigit() and len(word) <= 3 for word in words):  # noqa: PLR2004
            raise forms.ValidationError(_now("Type the dice as numbers with spaces between them, such as 4 2 6."))
        return [int(word) for word in words]

    def validate(self, value: Any) -> None:
        if self.required and not value:
            raise forms.ValidationError(self.error_messages["required"])

    def run_validators(self, value: Any) -> None:
        """The service knows how many dice and which faces."""


class DiceForm(forms.Form):
    """One field for each unit whose dice are not thrown; empty ones wait."""

    def __init__(self, *args: Any, wanted: Sequence[Fallen], **options: Any) -> None:
        super().__init__(*args, **options)
        for each in wanted:
            self.fields[f"casualty.{each.casualty_id}"] = DiceField(
                label=_("Dice of %(unit)s") % {"unit": each.unit_name},
                required=False,
                max_length=1000,
                widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
            )

    def clean(self) -> dict[str, Any]:
        if not self.errors and not any(self.cleaned_data.values()):
            raise forms.ValidationError(_now("Enter the dice of at least one unit."))
        return self.cleaned_data

    def results(self) -> dict[int, list[int]]:
        return {int(name.removeprefix("casualty.")): rolls for name, rolls in self.cleaned_data.items() if rolls}


class PhotoForm(forms.Form):
    submission = SubmissionField()
    file = forms.FileField(
        label=_("Photo"),
        help_text=_("JPEG, PNG or WebP, up to 10 MB. It is made smaller, and where and when it was taken is removed."),
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png,image/webp"}),
        error_messages={"required": _("Choose a photo."), "empty": _("The file is empty.")},
    )
    caption = forms.CharField(label=_("Caption"), required=False, max_length=200)


class RostersForm(forms.Form):
    """Which roster each side led, for the sides that have not said so."""

    def __init__(self, *args: Any, sides: Sequence[RosterChoice], **options: Any) -> None:
        super().__init__(*args, **options)
        for side in sides:
            rosters = [(roster.pk, roster.name) for roster in side.rosters]
            self.fields[f"sides.{side.position - 1}.roster_id"] = forms.TypedChoiceField(
                label=_("Roster of %(names)s") % {"names": side.names},
                coerce=int,
                required=False,
                empty_value=None,
                choices=[("", _("none")), *rosters],
            )

    def rosters(self) -> dict[int, int]:
        return {int(name.split(".")[1]) + 1: pk for name, pk in self.cleaned_data.items() if pk}
