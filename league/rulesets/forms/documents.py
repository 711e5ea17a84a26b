"""Rulesets that come whole: from an example, a file, pasted text, or nothing but a name."""

from __future__ import annotations

import json
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines.rulesets import FORMAT
from league.rulesets.queries import shipped_documents

__all__ = ["DocumentField", "DocumentForm", "NewRulesetForm"]

BYTES_MOST = 1_000_000
BLANK, OWN = "blank", "own"


def read_json(text: str) -> Any:
    """The JSON in a text, or a field error that says where it breaks off."""
    try:
        return json.loads(text, parse_constant=refuse_constant)
    except json.JSONDecodeError as failure:
        words = _("This is no JSON: line %(line)s, column %(column)s cannot be read.")
        raise forms.ValidationError(words % {"line": failure.lineno, "column": failure.colno}) from failure
    except (ValueError, RecursionError) as failure:
        raise forms.ValidationError(_("This is no JSON that can be kept.")) from failure


def refuse_constant(name: str) -> Any:
    raise ValueError(name)


class DocumentField(forms.CharField):
    """Pasted JSON, cleaned to what it says; nothing pasted is None."""

    widget = forms.Textarea({"rows": 12, "spellcheck": "false"})

    def clean(self, value: Any) -> Any:
        text = super().clean(value)
        return read_json(text) if text.strip() else None


class DocumentFileField(forms.FileField):
    """A JSON file, cleaned to what it says."""

    def clean(self, data: Any, initial: Any = None) -> Any:
        file = super().clean(data, initial)
        if not file:
            return None
        if file.size > BYTES_MOST:
            raise forms.ValidationError(_("The file is larger than a ruleset can be."))
        try:
            return read_json(file.read().decode("utf-8-sig"))
        except UnicodeDecodeError as failure:
            raise forms.ValidationError(_("The file is no text in UTF-8.")) from failure


class WholeDocument(forms.Form):
    file = DocumentFileField(label=gettext_lazy("A JSON file"), required=False)
    text = DocumentField(label=gettext_lazy("Or its text, pasted"), required=False, strip=False, max_length=BYTES_MOST)

    def document_given(self) -> Any:
        """What came, the file before the text; None: nothing did."""
        file = self.cleaned_data.get("file")
        return self.cleaned_data.get("text") if file is None else file

    def refuse_nothing(self) -> None:
        if not self.errors and self.document_given() is None:
            self.add_error("text", _("Choose a file or paste its text."))


class DocumentForm(WholeDocument):
    """A whole ruleset in place of the current edition."""

    number = forms.IntegerField(widget=forms.HiddenInput)
    note = forms.CharField(label=gettext_lazy("What changed"), required=False, max_length=200)

    def clean(self) -> dict[str, Any]:
        self.refuse_nothing()
        return self.cleaned_data


class NewRulesetForm(WholeDocument):
    """Where to begin: an example that comes with the site, a blank one, or the club's own file."""

    start = forms.ChoiceField(label=gettext_lazy("Begin with"), widget=forms.RadioSelect)
    name = forms.CharField(
        label=gettext_lazy("Name"),
        max_length=80,
        required=False,
        help_text=gettext_lazy("Left blank: the name the example or the file has."),
    )
    field_order = ("start", "name", "file", "text")

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.examples = shipped_documents()
        self.fields["start"].choices = [
            *((key, _("the example “%(name)s”") % {"name": each["name"]}) for key, each in self.examples.items()),
            (BLANK, _("a blank ruleset with one class")),
            (OWN, _("a file or pasted text of your own")),
        ]
        self.fields["start"].initial = next(iter(self.examples), BLANK)

    def clean(self) -> dict[str, Any]:
        start = self.cleaned_data.get("start")
        if start == OWN:
            self.refuse_nothing()
        elif start and self.document_given() is not None:
            self.add_error("start", _("There is a file or text below; choose it here, or take it away."))
        if start == BLANK and not self.cleaned_data.get("name"):
            self.add_error("name", _("A blank ruleset needs a name."))
        return self.cleaned_data

    def document(self) -> Any:
        start, name = self.cleaned_data["start"], self.cleaned_data["name"]
        if start == BLANK:
            return blank_document(name, _("Unit"))
        document = self.document_given() if start == OWN else self.examples[start]
        return {**document, "name": name} if name and isinstance(document, dict) else document


def blank_document(name: str, unit: str) -> dict[str, Any]:
    """The least a ruleset can be: one class of unit."""
    unit_class = {"key": "unit", "name": unit, "figures_least": 1, "figures_most": 40}
    return {"format": FORMAT, "name": name, "unit_classes": [unit_class]}
