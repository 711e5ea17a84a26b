"""A member's story of a turn."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from league.web import SubmissionField

__all__ = ["StoryForm"]


class StoryForm(forms.Form):
    submission = SubmissionField()
    story_title = forms.CharField(label=_("Title"), max_length=120)
    text = forms.CharField(label=_("Story"), max_length=8000, widget=forms.Textarea(attrs={"rows": 12}))

    def place_of(self, field: str) -> str:
        return "story_title" if field == "title" else field
