"""The rows of what a ruleset asks of the kit box, and of what may stand in for it."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.engines import rulesets as engine
from league.engines import sizes
from league.rulesets.forms.lines import LinesField
from league.rulesets.forms.rows import KeyedRow, Row, name_field, names_of
from league.rulesets.queries import (
    CATEGORIES,
    IMPORTANCES,
    MAKES,
    PERS,
    SHARINGS,
    how_many_in_words,
    thing_in_words,
)

__all__ = ["NeedRow", "StandInRow"]

PIECES_MOST = 1_000
RANK_MOST = 9
USUAL = {
    "count": 1,
    "of": 1,
    "spare": 0,
    "tolerance_mm": 1,
    "scale_tolerance_mm": 0,
    "takes": 1,
    "covers": 1,
    "rank": 1,
}
SIDES_OF_GROUND = 2
THING = ("category", "use", "sides", "colour", "scale_mm", "tolerance_mm", "scale_tolerance_mm")


def pieces(
    label: Any, name: str, *, least: int = 0, most: int = PIECES_MOST, help_text: Any = ""
) -> forms.IntegerField:
    """A number that usually is what `USUAL` says; left blank it is that."""
    return forms.IntegerField(
        label=label, required=False, min_value=least, max_value=most, initial=USUAL.get(name), help_text=help_text
    )


class SizeOfThingField(forms.CharField):
    """One length, or the two sides of what covers ground; cleaned to the fields of a thing that is asked for."""

    default_error_messages = {
        "unreadable": gettext_lazy(
            "Enter a length with its unit, such as 3 in or 90 cm, or two sides, such as 6 x 4 ft."
        ),
        "no_unit": gettext_lazy("Say the unit as well: ft, in, cm, m or mm."),
        "unknown_unit": gettext_lazy("The unit is ft, in, cm, m or mm."),
        "zero": gettext_lazy("A length is longer than nothing."),
    }

    def clean(self, value: Any) -> dict[str, int]:
        typed = super().clean(value)
        if not typed:
            return {}
        try:
            lengths = sizes.parse_lengths(typed)
        except sizes.NotASize as reason:
            code = reason.code if reason.code in self.default_error_messages else "unreadable"
            raise forms.ValidationError(self.error_messages[code], code=code) from reason
        if len(lengths) > SIDES_OF_GROUND:
            raise forms.ValidationError(self.error_messages["unreadable"], code="unreadable")
        return dict(zip(("size_mm", "depth_mm"), lengths, strict=False))


class GearField(LinesField):
    """Names of gear, one to a line."""

    def read(self, line: str, earlier: Sequence[Mapping[str, Any]]) -> Any:  # noqa: ARG002 - its signature
        return line


class ExtrasField(LinesField):
    """“machine gun: 6”: dice that gear adds."""

    def read(self, line: str, earlier: Sequence[Mapping[str, Any]]) -> dict[str, Any]:  # noqa: ARG002 - its signature
        gear, colon, count = line.rpartition(":")
        if not colon or not gear.strip() or not count.strip().isdecimal():
            raise ValueError(_("write the gear, a colon and how many dice it adds, such as machine gun: 6."))
        return {"gear": gear.strip(), "count": int(count)}


class OfThing(Row):
    """A row about a thing, which stands in the document under the name `thing`.

    There are many of them with many fields, so that the page folds each behind its `in_words`.
    """

    thing: ClassVar[str]

    category = forms.ChoiceField(label=gettext_lazy("What sort of thing"), choices=[("", "–"), *CATEGORIES.items()])
    use = forms.CharField(
        label=gettext_lazy("What it serves for"),
        required=False,
        max_length=40,
        help_text=gettext_lazy(
            "One word in small letters, such as activation or hill; the club's kit is told apart by it."
        ),
    )
    sides = forms.IntegerField(label=gettext_lazy("Sides of the die"), required=False, min_value=2, max_value=100)
    size = SizeOfThingField(
        label=gettext_lazy("Size"),
        required=False,
        help_text=gettext_lazy("Across a circle, along a stick, both sides of a mat: 3 in, 36 in, 6 x 4 ft."),
    )
    tolerance_mm = pieces(gettext_lazy("How many mm the size may be off"), "tolerance_mm")
    colour = forms.CharField(label=gettext_lazy("Colour"), required=False, max_length=80)
    scale_mm = forms.IntegerField(
        label=gettext_lazy("For figures of so many mm"), required=False, min_value=1, max_value=200
    )
    scale_tolerance_mm = pieces(gettext_lazy("How many mm these may be off"), "scale_tolerance_mm", most=200)

    @classmethod
    def initial_of(cls, thing: Any) -> dict[str, Any]:
        wanted: engine.Wanted = getattr(thing, cls.thing)
        lengths = [each for each in (wanted.size_mm, wanted.depth_mm) if each is not None]
        own = {field: getattr(thing, field) for field in cls.base_fields if field not in {*THING, "size"}}
        return {
            **own,
            **{field: getattr(wanted, field) for field in THING},
            "size": sizes.lengths_as_text(lengths) if lengths else "",
        }

    def part(self, taken: Collection[str]) -> Any:
        """What was typed, with the thing as an object of its own; blank numbers are the usual ones."""
        said = super().part(taken)
        size = said.pop("size")
        thing = {field: said.pop(field) for field in THING if field in said}
        return {**said, self.thing: {**thing, **size}}

    def field_of(self, path: str) -> str | None:
        head, _dot, rest = path.partition(".")
        if head != self.thing:
            return super().field_of(path)
        return {"size_mm": "size", "depth_mm": "size", "": "category"}.get(rest) or super().field_of(rest)


class NeedRow(OfThing, KeyedRow):
    kind = "need"
    thing = "wanted"
    name = name_field(gettext_lazy("Name"))
    per = forms.ChoiceField(label=gettext_lazy("Asked for"), choices=[("", "–"), *PERS.items()])
    count = pieces(gettext_lazy("How many"), "count")
    of = pieces(
        gettext_lazy("For every so many"),
        "of",
        least=1,
        help_text=gettext_lazy("3 for every 4 units: 3 above, 4 here. Usually 1."),
    )
    sharing = forms.ChoiceField(
        label=gettext_lazy("Between the sides"),
        required=False,
        choices=[("", gettext_lazy("as usual: shared if for the table, otherwise each its own")), *SHARINGS.items()],
    )
    gear = GearField(
        label=gettext_lazy("Only for units with this gear"),
        required=False,
        widget=forms.Textarea({"rows": 2}),
        help_text=gettext_lazy("One to a line, as rosters call it, such as mortar. One of them is enough."),
    )
    extras = ExtrasField(
        label=gettext_lazy("Gear that adds dice"),
        required=False,
        widget=forms.Textarea({"rows": 2}),
        help_text=gettext_lazy("For dice thrown at once; one to a line, such as machine gun: 6"),
    )
    classes = forms.MultipleChoiceField(
        label=gettext_lazy("Only for these classes"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=gettext_lazy("None ticked: every class."),
    )
    scenarios = forms.MultipleChoiceField(
        label=gettext_lazy("Only in these scenarios"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=gettext_lazy("None ticked: in all of them."),
    )
    most = pieces(gettext_lazy("So many are enough"), "most", least=1)
    spare = pieces(gettext_lazy("To spare, on top"), "spare")
    importance = forms.ChoiceField(
        label=gettext_lazy("How much it matters"), choices=list(IMPORTANCES.items()), initial="needed"
    )
    make = forms.ChoiceField(
        label=gettext_lazy("If nobody has it"), required=False, choices=list(MAKES.items()), initial=""
    )
    field_order = (
        "name",
        "category",
        "use",
        "sides",
        "size",
        "colour",
        "per",
        "count",
        "of",
        "sharing",
        "gear",
        "extras",
    )

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["classes"].choices = names_of(self.rules.unit_classes)
        self.fields["scenarios"].choices = [(each.key, each.name) for each in self.rules.scenarios]

    @classmethod
    def initial_of(cls, thing: engine.Need) -> dict[str, Any]:
        return {
            **super().initial_of(thing),
            "gear": "\n".join(thing.gear),
            "extras": "\n".join(f"{each.gear}: {each.count}" for each in thing.extras),
            "classes": list(thing.classes),
            "scenarios": list(thing.scenarios),
            "in_words": "; ".join([thing_in_words(thing.wanted), *how_many_in_words(thing)]),
        }

    def part(self, taken: Collection[str]) -> Any:
        said = super().part(taken)
        if not said["sharing"]:
            del said["sharing"]
        return said


class StandInRow(OfThing):
    thing = "piece"
    need = forms.ChoiceField(label=gettext_lazy("Stands in for"))
    takes = pieces(gettext_lazy("So many of it"), "takes", least=1)
    covers = pieces(gettext_lazy("stand for so many"), "covers", least=1)
    rank = pieces(
        gettext_lazy("Place among stand-ins"),
        "rank",
        least=1,
        most=RANK_MOST,
        help_text=gettext_lazy("1 is tried first."),
    )
    loss = pieces(
        gettext_lazy("What it costs the game"),
        "loss",
        help_text=gettext_lazy("Among stand-ins of one place the smaller loss is taken. Usually 0."),
    )
    at_home = forms.BooleanField(label=gettext_lazy("Most households have one"), required=False)
    note = forms.CharField(
        label=gettext_lazy("How it is done"),
        required=False,
        max_length=80,
        help_text=gettext_lazy("Such as: a book under the cloth."),
    )
    field_order = (
        "need",
        "note",
        "category",
        "use",
        "sides",
        "size",
        "colour",
        "takes",
        "covers",
        "rank",
        "loss",
        "at_home",
    )

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["need"].choices = [("", "–"), *((each.key, each.name) for each in self.rules.kit.needs)]

    @classmethod
    def initial_of(cls, thing: engine.StandIn) -> dict[str, Any]:
        return {**super().initial_of(thing), "name": thing.note, "in_words": thing_in_words(thing.piece)}
