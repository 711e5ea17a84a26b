"""What the page of how many are enough asks."""

from __future__ import annotations

from django import forms
from django.utils.text import format_lazy
from django.utils.translation import gettext_lazy as _

from league.stores.queries.enough_page import CHANCES, MOST_TABLES

__all__ = ["EnoughForm"]


class EnoughForm(forms.Form):
    what = forms.ChoiceField(label=_("Of what"), choices=[("markers", _("markers")), ("dice", _("dice"))])
    tables = forms.IntegerField(label=_("Tables at once"), min_value=1, max_value=MOST_TABLES)
    percent = forms.TypedChoiceField(
        label=_("Enough how often"),
        coerce=int,
        choices=[(chance, format_lazy(_("{chance} evenings in 100"), chance=chance)) for chance in CHANCES],
    )
