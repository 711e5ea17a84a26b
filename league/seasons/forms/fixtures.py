"""A list of fixtures, pasted."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from league.web import SubmissionField

__all__ = ["FixturesForm"]


class FixturesForm(forms.Form):
    submission = SubmissionField()
    text = forms.CharField(
        label=_("The list"),
        max_length=200_000,
        widget=forms.Textarea(attrs={"rows": 12}),
        help_text=_(
            "A line for each pairing: the round, who, against whom, and perhaps the day, with commas between them. Write "
            "bye where there is nobody. For instance: 1, Tarn, Voyle, 2026-03-05"
        ),
    )
