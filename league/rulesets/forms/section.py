"""What every section of a ruleset's form shares: its own fields, sets of rows, and the whole document it makes.

What was typed into a section is laid over the edition it began from; the service judges the whole.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines import rulesets as engine
from league.engines.rulesets import ruleset_to_document
from league.errors import Refused
from league.rulesets.forms.rows import Row

__all__ = ["RowSet", "SectionForm"]


@dataclass(frozen=True, kw_only=True, slots=True)
class RowSet:
    """Rows of one list of the document: where it stands, what of the rules fills it, how many blank ones follow."""

    name: str
    path: tuple[str, ...]
    row: type[Row]
    title: Any
    things: Callable[[engine.Ruleset], Sequence[Any]]
    in_order: bool = False
    blank: int = 3

    @property
    def place(self) -> str:
        return "document." + ".".join(self.path)


class SectionForm(forms.Form):
    """One section. `number` is the edition it began from; every save says in `note` what changed."""

    section: ClassVar[str]
    title: ClassVar[Any]
    intro: ClassVar[Any] = ""
    row_sets: ClassVar[tuple[RowSet, ...]] = ()
    under: ClassVar[tuple[str, ...]] = ()

    number = forms.IntegerField(widget=forms.HiddenInput)
    note = forms.CharField(
        label=gettext_lazy("What changed"),
        required=False,
        max_length=200,
        help_text=gettext_lazy("A few words for those who played by the edition before."),
    )

    def __init__(self, *args: Any, rules: engine.Ruleset, number: int, **options: Any) -> None:
        self.rules = rules
        super().__init__(*args, **{**options, "initial": {"number": number, **self.initial_of(rules)}})
        self.sets = [(each, self.formset_of(each)) for each in self.row_sets]
        self.order_fields([*(name for name in self.fields if name != "note"), "note"])

    def initial_of(self, rules: engine.Ruleset) -> dict[str, Any]:
        """The section's own fields, from the part of the rules it stands under."""
        thing: Any = rules
        for name in self.under:
            thing = getattr(thing, name)
        return {field: getattr(thing, field) for field in self.own_fields()}

    @classmethod
    def own_fields(cls) -> list[str]:
        return [field for field in cls.base_fields if field not in {"number", "note"}]

    def formset_of(self, rows: RowSet) -> forms.BaseFormSet[Row]:
        of_rows = forms.formset_factory(
            rows.row, extra=rows.blank, can_delete=True, can_order=rows.in_order, max_num=100, validate_max=True
        )
        formset = of_rows(
            self.data if self.is_bound else None,
            prefix=rows.name,
            initial=[rows.row.initial_of(each) for each in rows.things(self.rules)],
            form_kwargs={"rules": self.rules},
        )
        for form in formset:
            form.fields["DELETE"].label = _("Take this away")
            if rows.in_order:
                form.fields["ORDER"].label = _("Place")
        return formset

    def is_valid(self) -> bool:
        # Both are asked, so that everything wrong is told at once.
        return all([super().is_valid(), *(formset.is_valid() for _rows, formset in self.sets)])

    def has_errors(self) -> bool:
        """Whether anything is wrong, in the section itself or in its rows."""
        if not self.is_bound:
            return False
        return bool(self.errors) or any(
            formset.total_error_count() or any(form.errors for form in formset) for _rows, formset in self.sets
        )

    def kept(self, rows: RowSet, formset: forms.BaseFormSet[Row]) -> list[Row]:
        """The rows that stay, in their order: filled in and not taken away."""
        if rows.in_order:
            return list(formset.ordered_forms)
        return [form for form in formset if form.cleaned_data and not form.cleaned_data.get("DELETE")]

    def document(self) -> dict[str, Any]:
        """The whole document with this section as it was typed. Only for a valid form."""
        document = ruleset_to_document(self.rules)
        target = document
        for name in self.under:
            target = target.setdefault(name, {})
        target.update({field: self.said(field) for field in self.own_fields()})
        for rows, formset in self.sets:
            holder = document
            for name in rows.path[:-1]:
                holder = holder[name]
            holder[rows.path[-1]] = self.parts(rows, formset)
        return document

    def said(self, field: str) -> Any:
        value = self.cleaned_data[field]
        return 0 if value is None else value

    def parts(self, rows: RowSet, formset: forms.BaseFormSet[Row]) -> list[Any]:
        kept = self.kept(rows, formset)
        taken = {form.cleaned_data.get("key") for form in kept} - {None, ""}
        parts = []
        for form in kept:
            part = form.part(taken)
            if isinstance(part, dict) and "key" in part:
                taken.add(part["key"])
            parts.append(part)
        return parts

    def show_refusal(self, refusal: Refused) -> None:
        """Each violation beside the field it is about; what belongs to other sections on top."""
        for field, words in refusal.by_field().items():
            form, name = self.home_of(field)
            for message in words:
                form.add_error(name, message)

    def home_of(self, place: str) -> tuple[forms.BaseForm, str | None]:
        for rows, formset in self.sets:
            if place.startswith(f"{rows.place}."):
                index, _dot, rest = place.removeprefix(f"{rows.place}.").partition(".")
                row = self.kept(rows, formset)[int(index)]
                return row, row.field_of(rest)
        own = place.removeprefix(".".join(["document", *self.under]) + ".")
        return self, own if own in self.fields else None
