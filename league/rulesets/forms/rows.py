"""The rows a ruleset is edited by: one unit class, one limit, one casualty table, one scenario.

A row fills itself from a part of the rules (`initial_of`) and gives the part of a document it was filled in as
(`part`). Rows whose things have keys carry the key hidden, so that a thing keeps its key when it is renamed.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from fractions import Fraction
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.forms import SizeField
from league.engines import rulesets as engine
from league.engines import sizes
from league.engines.rulesets import DICE
from league.rulesets.forms.keys import key_from
from league.rulesets.forms.lines import (
    ObjectivesField,
    OutcomesField,
    SidesField,
    objectives_as_lines,
    outcomes_as_lines,
    sides_as_lines,
)
from league.rulesets.queries import BONUS_KINDS, LIMIT_KINDS, TIE_BREAKS
from league.web import half_points

__all__ = [
    "BonusRow",
    "HalfPointsField",
    "KeyedRow",
    "LimitRow",
    "QualityRow",
    "Row",
    "ScenarioRow",
    "StepRow",
    "TableRow",
    "TieBreakRow",
    "UnitClassRow",
    "name_field",
    "names_of",
    "number",
]

NUMBER_MOST = 100_000


def number(label: Any, *, required: bool = False, least: int = 0, help_text: Any = "") -> forms.IntegerField:
    return forms.IntegerField(
        label=label, required=required, min_value=least, max_value=NUMBER_MOST, help_text=help_text
    )


def name_field(label: Any) -> forms.CharField:
    return forms.CharField(label=label, max_length=80)


class HalfPointsField(forms.CharField):
    """Points in halves as people write them: 3, 3.5, 3½, ½; cleaned to twice the value."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**{"max_length": 10, "widget": forms.TextInput({"inputmode": "decimal"}), **options})

    def prepare_value(self, value: Any) -> Any:
        return half_points(value) if isinstance(value, int) else value

    def has_changed(self, initial: Any, data: Any) -> bool:
        return super().has_changed(self.prepare_value(initial), data)

    def clean(self, value: Any) -> int | None:
        text = super().clean(value).strip().replace("\N{MINUS SIGN}", "-").replace(",", ".")
        if not text:
            return None
        if text.endswith("½"):
            text = f"{text[:-1] or '0'}.5".replace("-.", "-0.")
        try:
            twice = Fraction(text) * 2
        except (ValueError, ZeroDivisionError) as failure:
            raise forms.ValidationError(_("Enter points in halves, such as 3, 3.5 or 3½.")) from failure
        if twice.denominator != 1 or abs(twice) > NUMBER_MOST:
            raise forms.ValidationError(_("Enter points in halves, such as 3, 3.5 or 3½."))
        return int(twice)


class TableSizeField(SizeField):
    """The size of a table, or nothing."""

    def prepare_value(self, value: Any) -> Any:
        if isinstance(value, engine.TableSize):
            return f"{value.width_mm} x {value.depth_mm} mm"
        return value

    def has_changed(self, initial: Any, data: Any) -> bool:
        return super().has_changed(self.prepare_value(initial), data)

    def clean(self, value: Any) -> sizes.Size | None:
        return super().clean(value) if value and value.strip() else None


class Row(forms.Form):
    """One row; `rules` are those of the edition being changed. `aliases` lead from a field of the document to ours."""

    kind: ClassVar[str] = ""
    aliases: ClassVar[dict[str, str]] = {}

    def __init__(self, *args: Any, rules: engine.Ruleset, **options: Any) -> None:
        super().__init__(*args, **options)
        self.rules = rules

    @classmethod
    def initial_of(cls, thing: Any) -> dict[str, Any]:
        return {field: getattr(thing, field) for field in cls.base_fields}

    def part(self, taken: Collection[str]) -> Any:
        """What this row says in the document; a new thing gets a key unlike those `taken`. Blank means left out."""
        said = {field: self.cleaned_data[field] for field in self.base_fields if self.cleaned_data[field] is not None}
        if "key" in said:
            said["key"] = said["key"] or key_from(said["name"], taken, kind=self.kind)
        return said

    def field_of(self, path: str) -> str | None:
        """Our field for a place in the row's part of the document, such as `outcomes.0.from`."""
        head = path.split(".", maxsplit=1)[0]
        field = self.aliases.get(head, head)
        return field if field in self.fields and not self.fields[field].widget.is_hidden else None


class KeyedRow(Row):
    """A thing that programs know by a key; hidden, so that it keeps its key when it gets another name."""

    key = forms.CharField(required=False, max_length=40, widget=forms.HiddenInput)


class QualityRow(KeyedRow):
    kind = "quality"
    name = name_field(gettext_lazy("Name"))


class UnitClassRow(KeyedRow):
    kind = "class"
    name = name_field(gettext_lazy("Name"))
    figures_least = number(gettext_lazy("Fewest figures"), required=True, least=1)
    figures_most = number(gettext_lazy("Most figures"), required=True, least=1)


class LimitRow(Row):
    aliases: ClassVar = {"class": "unit_class"}
    kind = forms.ChoiceField(
        label=gettext_lazy("What is limited"), choices=[("", "–"), *LIMIT_KINDS.items()], required=True
    )
    unit_class = forms.ChoiceField(label=gettext_lazy("Class"), required=False)
    least = number(gettext_lazy("At least"))
    most = number(gettext_lazy("At most"))
    most_percent = number(gettext_lazy("At most per cent"))

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["unit_class"].choices = [("", "–"), *names_of(self.rules.unit_classes)]

    @classmethod
    def initial_of(cls, thing: engine.Limit) -> dict[str, Any]:
        kind = LIMITS[type(thing)]
        return {"kind": kind, **{field: getattr(thing, field, None) for field in cls.base_fields if field != "kind"}}

    def part(self, taken: Collection[str]) -> Any:
        """Everything that was typed, so that a number the kind has no use for is told and not dropped."""
        said = super().part(taken)
        unit_class = said.pop("unit_class")
        return {**said, "class": unit_class} if unit_class else said


class TableRow(KeyedRow):
    kind = "table"
    name = name_field(gettext_lazy("Name"))
    classes = forms.MultipleChoiceField(
        label=gettext_lazy("For these classes"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=gettext_lazy("None ticked: every class."),
    )
    qualities = forms.MultipleChoiceField(
        label=gettext_lazy("For these qualities"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=gettext_lazy("None ticked: every quality."),
    )
    roll_for = forms.ChoiceField(
        label=gettext_lazy("One die for"),
        choices=[("figure", gettext_lazy("each figure lost")), ("unit", gettext_lazy("the whole unit"))],
        initial="figure",  # what a browser sends of a row left blank must not look filled in
    )
    die = forms.TypedChoiceField(
        label=gettext_lazy("Die"),
        coerce=int,
        choices=[(sides, str(sides)) for sides in DICE],
        initial=6,
        help_text=gettext_lazy("How many sides the readings count to; 2 and 3 are read off a six-sided die."),
    )
    outcomes = OutcomesField(
        label=gettext_lazy("What the rolls mean"),
        help_text=gettext_lazy("One line each, every roll once: 1-2 lost, 3 out 1 (misses one battle), 4-6 back."),
    )

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["classes"].choices = names_of(self.rules.unit_classes)
        self.fields["qualities"].choices = names_of(self.rules.qualities)

    @classmethod
    def initial_of(cls, thing: engine.CasualtyTable) -> dict[str, Any]:
        return {
            **super().initial_of(thing),
            "classes": list(thing.classes),
            "qualities": list(thing.qualities),
            "outcomes": outcomes_as_lines(thing.outcomes),
        }


class StepRow(Row):
    at = number(gettext_lazy("From experience"), required=True)
    name = name_field(gettext_lazy("Called"))


class ScenarioRow(KeyedRow):
    kind = "scenario"
    name = name_field(gettext_lazy("Name"))
    summary = forms.CharField(
        label=gettext_lazy("Summary"), required=False, max_length=2000, widget=forms.Textarea({"rows": 3})
    )
    sides = SidesField(
        label=gettext_lazy("Sides"),
        help_text=gettext_lazy(
            "One line each, such as Attacker. The word in brackets is what programs call it; leave it out for a new one."
        ),
        widget=forms.Textarea({"rows": 3}),
    )
    objectives = ObjectivesField(
        label=gettext_lazy("Objectives"),
        required=False,
        help_text=gettext_lazy(
            "One line each: the name, a colon and the points for each time; after commas how often at most, and "
            "“shared” if there are only so many for all sides together. Such as: Holds the bridge: 3, at most 1, shared"
        ),
        widget=forms.Textarea({"rows": 4}),
    )
    score_most = number(gettext_lazy("Highest score"), least=1)
    draw_margin = number(gettext_lazy("A draw up to a difference of"))
    rounds_most = number(gettext_lazy("Most rounds"), least=1)
    table = TableSizeField(
        label=gettext_lazy("Size of the table"), required=False, help_text=gettext_lazy("Such as 6 x 4 ft.")
    )

    @classmethod
    def initial_of(cls, thing: engine.Scenario) -> dict[str, Any]:
        return {
            **super().initial_of(thing),
            "sides": sides_as_lines(thing.sides),
            "objectives": objectives_as_lines(thing.objectives),
        }

    def part(self, taken: Collection[str]) -> Any:
        said = super().part(taken)
        size = said.pop("table", None)
        return {**said, "table": {"width_mm": size.width_mm, "depth_mm": size.depth_mm}} if size else said


class BonusRow(Row):
    kind = forms.ChoiceField(label=gettext_lazy("For what"), choices=[("", "–"), *BONUS_KINDS.items()])
    threshold = number(gettext_lazy("How much"), required=True, least=1)
    points_x2 = HalfPointsField(label=gettext_lazy("Points"))
    count = forms.CharField(
        label=gettext_lazy("Which count"),
        required=False,
        max_length=40,
        help_text=gettext_lazy("For a count only: the word in brackets of an objective."),
    )
    name = forms.CharField(label=gettext_lazy("Called"), required=False, max_length=80)


class TieBreakRow(Row):
    """One tie-break; the order of the rows is the order of use."""

    tie_break = forms.ChoiceField(label=gettext_lazy("Tie-break"), choices=[("", "–"), *TIE_BREAKS.items()])
    count = forms.CharField(
        label=gettext_lazy("Which count"),
        required=False,
        max_length=40,
        help_text=gettext_lazy("For the total of a count only."),
    )

    @classmethod
    def initial_of(cls, thing: str) -> dict[str, Any]:
        name, _colon, count = thing.partition(":")
        return {"tie_break": name, "count": count}

    def part(self, taken: Collection[str]) -> str:  # noqa: ARG002 - tie-breaks have no keys
        name, count = self.cleaned_data["tie_break"], self.cleaned_data["count"].strip()
        return f"{name}:{count}" if count or name == "count_total" else str(name)

    def field_of(self, path: str) -> str | None:  # noqa: ARG002 - the part is one word
        return "tie_break"


LIMITS = {
    engine.PointsCap: "points_cap",
    engine.UnitCount: "unit_count",
    engine.ClassCount: "class_count",
    engine.ClassShare: "class_share",
}


def names_of(things: Sequence[engine.UnitClass | engine.Quality]) -> list[tuple[str, str]]:
    """Choices of a field: keys and the names people know."""
    return [(each.key, each.name) for each in things]
