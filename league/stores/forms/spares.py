"""The one search box of the stores."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

__all__ = ["SparesForm"]


class SparesForm(forms.Form):
    q = forms.CharField(
        label=_("Who has spare …?"),
        max_length=80,
        required=False,
        widget=forms.TextInput({"type": "search", "autocomplete": "off", "enterkeyhint": "search"}),
        help_text=_("Such as: red markers; hill 28 mm; d6."),
    )
    on = forms.DateField(
        label=_("Free on"), required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d")
    )
