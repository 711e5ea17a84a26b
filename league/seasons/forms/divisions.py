"""A division, and the season after this one."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from league.seasons.forms.small import date_input
from league.web import SubmissionField

__all__ = ["DivisionForm", "NextSeasonForm"]


class DivisionForm(forms.Form):
    name = forms.CharField(label=_("Name"), max_length=80)
    level = forms.IntegerField(label=_("Level"), min_value=1, max_value=50, help_text=_("1 is the highest."))
    promotes = forms.IntegerField(label=_("How many go up at the end"), min_value=0, max_value=100, initial=0)
    relegates = forms.IntegerField(label=_("How many go down at the end"), min_value=0, max_value=100, initial=0)


class NextSeasonForm(forms.Form):
    submission = SubmissionField()
    name = forms.CharField(label=_("Name of the season"), max_length=80)
    starts_on = forms.DateField(label=_("Starts on"), widget=date_input())
