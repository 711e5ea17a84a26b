"""Whose next game is asked about, and in which division."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

__all__ = ["ForecastForm"]


class ForecastForm(forms.Form):
    """Sent by GET. What is not to be chosen is taken for nothing asked."""

    division = forms.ChoiceField(label=_("Division"), required=False)
    entrant = forms.TypedChoiceField(
        label=_("What does this entrant need?"), required=False, coerce=int, empty_value=None
    )

    def __init__(
        self,
        *args: Any,
        divisions: Iterable[tuple[str, str]],
        entrants: Iterable[tuple[int, str]],
        **options: Any,
    ) -> None:
        super().__init__(*args, **options)
        self.fields["division"].choices = list(divisions)  # type: ignore[attr-defined]
        self.fields["entrant"].choices = [("", _("nobody")), *entrants]  # type: ignore[attr-defined]
        if not self.fields["division"].choices:  # type: ignore[attr-defined]
            del self.fields["division"]

    def asked(self, name: str) -> Any:
        """What was chosen; where nothing was sent, what stands there to begin with."""
        if not self.is_bound or self.add_prefix(name) not in self.data:
            return self.initial.get(name)
        return self.cleaned_data.get(name) if self.is_valid() else None
