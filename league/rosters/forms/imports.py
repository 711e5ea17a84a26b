"""Units that come as text: looked at first, written only when confirmed.

Nothing is kept between the two steps. The page carries the text; `seen` is the digest of the text that was shown as a
preview, and confirming reads the same text again. Text that was changed after the preview is shown once more.
"""

from __future__ import annotations

import hashlib
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines.roster_text import ParsedRoster, parse_roster
from league.engines.rulesets import Ruleset as Rules
from league.engines.text import decoded
from league.rosters.forms.rosters import OwnedFacts
from league.rosters.services.facts import UnitFacts, parsed_facts

__all__ = ["ImportForm", "NewFromTextForm", "UnitsText"]

TEXT_LONGEST = 200_000


class UnitsText(forms.Form):
    """The text or file with units, read by `rules`."""

    text = forms.CharField(
        label=gettext_lazy("Units, one a line, or CSV, or JSON"),
        required=False,
        strip=False,
        max_length=TEXT_LONGEST,
        widget=forms.Textarea({"rows": 10, "spellcheck": "false"}),
        help_text=gettext_lazy("Such as: Red Company: line, 10 figures, veteran, 60 points, long muskets; grenades"),
    )
    file = forms.FileField(label=gettext_lazy("Or a file"), required=False)
    seen = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)
    skip_bad = forms.BooleanField(
        label=gettext_lazy("Leave out the lines that cannot be read"), required=False, widget=forms.HiddenInput
    )

    def __init__(self, *args: Any, rules: Rules, **options: Any) -> None:
        super().__init__(*args, **options)
        self.rules = rules

    def clean(self) -> dict[str, Any]:
        said = self.cleaned_data
        file = said.get("file")
        if file and file.size > TEXT_LONGEST:
            self.add_error("file", _("The file is larger than a roster can be."))
        elif file:
            said["text"] = decoded(file.read())
        if not self.errors and not said["text"].strip():
            self.add_error("text", _("Type or paste the units, or choose a file."))
        return said

    @property
    def text_digest(self) -> str:
        return hashlib.sha256(unified(self.cleaned_data["text"]).encode()).hexdigest()

    def parsed(self) -> ParsedRoster:
        return parse_roster(self.cleaned_data["text"], self.rules)

    def is_confirmed(self, parsed: ParsedRoster) -> bool:
        """Whether the text was shown as it is, and nothing in it would be passed over unasked."""
        return (
            self.cleaned_data["seen"] == self.text_digest
            and bool(parsed.units)
            and (not parsed.bad_lines or self.cleaned_data["skip_bad"])
        )

    def facts(self) -> list[UnitFacts]:
        return [parsed_facts(unit) for unit in self.parsed().units]

    def as_preview(self, parsed: ParsedRoster) -> None:
        """Turn into the form of the second step: the text in its field, the file in the text, the digest beside."""
        self.data = self.data.copy()
        self.data[self.add_prefix("seen")] = self.text_digest
        self.data[self.add_prefix("text")] = self.cleaned_data["text"]
        if parsed.bad_lines:
            self.fields["skip_bad"].widget = forms.CheckboxInput()


def unified(text: str) -> str:
    """A browser sends every line break of a textarea as two characters, whatever a file had."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").strip("\n")


class ImportForm(UnitsText):
    """More units for a roster."""

    version = forms.IntegerField(widget=forms.HiddenInput)


class NewFromTextForm(UnitsText, OwnedFacts):
    """A new roster whose units come as text."""

    field_order = ("owner", "name", "faction", "points_limit", "note", "text", "file", "skip_bad")
