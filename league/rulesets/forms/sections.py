"""A ruleset edited section by section. A section is one form with sets of rows; together they make a whole document.

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
from league.rulesets.forms.rows import (
    BonusRow,
    HalfPointsField,
    LimitRow,
    QualityRow,
    Row,
    ScenarioRow,
    StepRow,
    TableRow,
    TieBreakRow,
    UnitClassRow,
    number,
)
from league.rulesets.queries import DESTROYED_POINTS

__all__ = ["SECTIONS", "RowSet", "SectionForm"]


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
            target = target[name]
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


class AboutSection(SectionForm):
    section = "about"
    title = gettext_lazy("Name and summary")
    name = forms.CharField(label=gettext_lazy("Name"), max_length=80)
    summary = forms.CharField(
        label=gettext_lazy("Summary"), required=False, max_length=2000, widget=forms.Textarea({"rows": 5})
    )
    destroyed_points = forms.ChoiceField(
        label=gettext_lazy("What a beaten unit is worth to the enemy"), choices=list(DESTROYED_POINTS.items())
    )


class QualitiesSection(SectionForm):
    section = "qualities"
    title = gettext_lazy("Qualities")
    intro = gettext_lazy("How good a unit is; what that means at the table is up to you.")
    row_sets = (
        RowSet(
            name="qualities",
            path=("qualities",),
            row=QualityRow,
            title=gettext_lazy("Qualities"),
            things=lambda rules: rules.qualities,
        ),
    )


class ClassesSection(SectionForm):
    section = "classes"
    title = gettext_lazy("Unit classes")
    intro = gettext_lazy("The kinds of unit a roster may have, and how many figures one of each has.")
    row_sets = (
        RowSet(
            name="unit_classes",
            path=("unit_classes",),
            row=UnitClassRow,
            title=gettext_lazy("Unit classes"),
            things=lambda rules: rules.unit_classes,
        ),
    )


class LimitsSection(SectionForm):
    section = "limits"
    title = gettext_lazy("Limits")
    intro = gettext_lazy("What makes a roster legal. A roster that breaks a limit can be kept; it says so.")
    row_sets = (
        RowSet(
            name="limits",
            path=("limits",),
            row=LimitRow,
            title=gettext_lazy("Limits"),
            things=lambda rules: rules.limits,
        ),
    )


class CasualtiesSection(SectionForm):
    section = "casualties"
    title = gettext_lazy("Casualty tables")
    intro = gettext_lazy(
        "What becomes of those lost in battle. The first table that speaks of a unit decides; without one everybody "
        "is back for the next battle."
    )
    row_sets = (
        RowSet(
            name="casualty_tables",
            path=("casualty_tables",),
            row=TableRow,
            title=gettext_lazy("Casualty tables"),
            things=lambda rules: rules.casualty_tables,
            in_order=True,
            blank=1,
        ),
    )


class ExperienceSection(SectionForm):
    section = "experience"
    title = gettext_lazy("Experience")
    intro = gettext_lazy("What a unit gains that took the field, and what it is called from then on.")
    under = ("experience",)
    per_game = number(gettext_lazy("For a game"))
    per_win = number(gettext_lazy("For a win, on top"))
    per_draw = number(gettext_lazy("For a draw, on top"))
    row_sets = (
        RowSet(
            name="steps",
            path=("experience", "steps"),
            row=StepRow,
            title=gettext_lazy("Steps"),
            things=lambda rules: rules.experience.steps,
        ),
    )


class ScenariosSection(SectionForm):
    section = "scenarios"
    title = gettext_lazy("Scenarios")
    intro = gettext_lazy("The ways to fight a game: who is on which side, and what they score for.")
    row_sets = (
        RowSet(
            name="scenarios",
            path=("scenarios",),
            row=ScenarioRow,
            title=gettext_lazy("Scenarios"),
            things=lambda rules: rules.scenarios,
            blank=1,
        ),
    )


def points(label: Any) -> HalfPointsField:
    return HalfPointsField(label=label, required=False)


class ScoringSection(SectionForm):
    section = "scoring"
    title = gettext_lazy("Scoring")
    intro = gettext_lazy("What games are worth in a season, unless the season says otherwise. Halves are allowed.")
    under = ("scoring",)
    win_x2 = points(gettext_lazy("A win"))
    draw_x2 = points(gettext_lazy("A draw"))
    loss_x2 = points(gettext_lazy("A loss"))
    showing_up_x2 = points(gettext_lazy("Showing up, on top"))
    bye_x2 = points(gettext_lazy("A bye"))
    forfeit_win_x2 = points(gettext_lazy("A win by forfeit"))
    forfeit_loss_x2 = points(gettext_lazy("A loss by forfeit"))
    absent_x2 = points(gettext_lazy("A round missed"))
    row_sets = (
        RowSet(
            name="bonuses",
            path=("scoring", "bonuses"),
            row=BonusRow,
            title=gettext_lazy("Bonus points"),
            things=lambda rules: rules.scoring.bonuses,
        ),
        RowSet(
            name="tie_breaks",
            path=("scoring", "tie_breaks"),
            row=TieBreakRow,
            title=gettext_lazy("Tie-breaks, in order of use"),
            things=lambda rules: rules.scoring.tie_breaks,
        ),
    )


SECTIONS: dict[str, type[SectionForm]] = {
    each.section: each
    for each in (
        AboutSection,
        QualitiesSection,
        ClassesSection,
        LimitsSection,
        CasualtiesSection,
        ExperienceSection,
        ScenariosSection,
        ScoringSection,
    )
}
