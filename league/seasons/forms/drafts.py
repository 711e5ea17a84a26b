"""Publishing a draft, fixing parts of it, putting a game off."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Table
from league.seasons.forms.small import date_input
from league.seasons.models import Entrant
from league.web import SubmissionField

__all__ = ["ChallengeForm", "PinForm", "PostponeForm", "PublishForm"]

BYE = "bye"
ANYBODY = "any"
PAIR = 2


class PublishForm(forms.Form):
    """`seen` names the draft that was looked at."""

    seen = forms.CharField(max_length=64, required=False, widget=forms.HiddenInput())


class PinForm(forms.Form):
    """A pairing of two, a bye, or a table for whoever one meets. `sides` meet in one game; 0: the format says who."""

    first = forms.TypedChoiceField(label=_("Who"), coerce=int)
    second = forms.ChoiceField(label=_("Meets"))
    table = forms.TypedChoiceField(label=_("At table"), coerce=int, empty_value=None, required=False)

    def __init__(
        self, *args: Any, entrants: Sequence[Entrant], tables: Iterable[Table], sides: int, **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.tables = {table.pk: table for table in tables}
        people = [(str(entrant.pk), entrant.name) for entrant in entrants]
        others = [(BYE, _now("nobody: a bye")), *(people if sides == PAIR else [])] if sides else []
        self.fields["first"].choices = [("", _now("choose")), *people]
        self.fields["second"].choices = [(ANYBODY, _now("whoever the draft says")), *others]
        self.fields["table"].choices = [
            ("", _now("any table")),
            *((table.pk, f"{table} ({table.venue.name})") for table in self.tables.values()),
        ]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("second") == ANYBODY and not data.get("table"):
            self.add_error("table", _now("Say at which table, or whom they meet."))
        if data.get("second") == BYE and data.get("table"):
            self.add_error("table", _now("Who has a bye needs no table."))
        return data

    @property
    def chosen_table(self) -> Table | None:
        return self.tables.get(self.cleaned_data["table"])

    def place_of(self, field: str) -> str:
        return {"entrant_ids": "first", "table": "table"}.get(field, "")


class ChallengeForm(forms.Form):
    """Who of one's own meets whom, and when."""

    submission = SubmissionField()
    first = forms.TypedChoiceField(label=_("Who"), coerce=int)
    second = forms.TypedChoiceField(label=_("Meets"), coerce=int)
    on = forms.DateField(label=_("Date"), widget=date_input())

    def __init__(self, *args: Any, own: Sequence[Entrant], others: Sequence[Entrant], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["first"].choices = [(entrant.pk, entrant.name) for entrant in own]
        self.fields["second"].choices = [("", _now("choose")), *((entrant.pk, entrant.name) for entrant in others)]

    def place_of(self, field: str) -> str:
        return "second" if field == "entrant_ids" else ""


class PostponeForm(forms.Form):
    until = forms.DateField(label=_("To be played by"), widget=date_input())
