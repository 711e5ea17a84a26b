"""Choosing the format of a season, and what the draw looks at for an entrant."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.engines.documents.season import Pairing
from league.engines.documents.season_formats import OPTIONS_OF
from league.engines.pairing import CRITERIA
from league.seasons.models import Division, Season
from league.seasons.queries.formats import CRITERION_WORDS

__all__ = ["FormatForm", "PlaceForm", "SeedingForm"]

USUAL = Pairing()


class FormatForm(forms.Form):
    """Every option of every format; those of the chosen one are taken and the others left alone."""

    format = forms.ChoiceField(label=_("How rounds come about"), choices=Season.Format.choices)
    rounds = forms.IntegerField(label=_("Rounds planned"), min_value=1, max_value=1000, required=False)
    sides = forms.TypedChoiceField(
        label=_("How many meet in one game"),
        coerce=int,
        empty_value=None,
        required=False,
        choices=[(2, _("two")), (3, _("three")), (4, _("four"))],
    )
    third_place = forms.BooleanField(label=_("Play for the third place"), required=False)
    groups = forms.IntegerField(label=_("Groups"), min_value=1, max_value=64, required=False)
    advance = forms.IntegerField(label=_("How many of each group go on"), min_value=1, max_value=64, required=False)
    best_of = forms.IntegerField(
        label=_("Only so many of the best results count"), min_value=1, max_value=1000, required=False
    )
    most_against = forms.IntegerField(
        label=_("Only so many games against one opponent count"), min_value=1, max_value=1000, required=False
    )
    least_games = forms.IntegerField(
        label=_("Games it takes to be placed"), min_value=0, max_value=1000, required=False
    )
    reach = forms.IntegerField(
        label=_("How many rungs above one may challenge"), min_value=1, max_value=1000, required=False
    )

    def __init__(self, *args: Any, pairing: Pairing, **options: Any) -> None:
        initial = {name: getattr(pairing, name) for name in self.base_fields}
        super().__init__(*args, **{**options, "initial": {**initial, **(options.get("initial") or {})}})
        for place, name in enumerate([*pairing.criteria, *(each for each in CRITERIA if each not in pairing.criteria)]):
            listed = name in pairing.criteria
            self.fields[f"rank_{name}"] = forms.IntegerField(
                label=str(CRITERION_WORDS[name]),
                min_value=1,
                max_value=len(CRITERIA),
                required=False,
                initial=place + 1 if listed else None,
            )
            self.fields[f"must_{name}"] = forms.BooleanField(
                label=_now("without exception"), required=False, initial=name in pairing.must
            )

    def clean(self) -> dict[str, Any]:
        """What stands under another format than the chosen one is not looked at, so nothing can be wrong with it."""
        data = super().clean() or self.cleaned_data
        if "format" in data:
            taken = OPTIONS_OF[data["format"]]
            for name in [name for name in self.errors if name != "format" and option_of(name) not in taken]:
                del self.errors[name]
        return data

    def plain_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in ("format",)]

    def options(self) -> list[tuple[str, str, list[forms.BoundField]]]:
        """The fields of each kind of format under its heading, with the formats they belong to."""
        parts = [
            (_now("Swiss rounds"), "swiss", ["rounds", "sides"]),
            (_now("Groups"), "groups_knockout", ["groups", "advance"]),
            (_now("Knock-out"), "knockout groups_knockout", ["third_place"]),
            (_now("Open season"), "open", ["best_of", "most_against", "least_games"]),
            (_now("Ladder"), "ladder", ["reach"]),
        ]
        return [(title, formats, [self[name] for name in names]) for title, formats, names in parts]

    def criteria_lines(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        names = [name.removeprefix("rank_") for name in self.fields if name.startswith("rank_")]
        return [(self[f"rank_{name}"], self[f"must_{name}"]) for name in names]

    def pairing(self) -> dict[str, Any]:
        """The `pairing` of a season document."""
        data = self.cleaned_data
        kept = data["format"]
        told: dict[str, Any] = {"format": kept}
        for name in OPTIONS_OF[kept]:
            if name == "criteria":
                told[name] = ordered(data)
            elif name == "must":
                told[name] = [each for each in ordered(data) if data[f"must_{each}"]]
            elif data[name] is not None:
                told[name] = data[name]
        return told

    def place_of(self, field: str) -> str:
        leaf = field.removeprefix("pairing.")
        return leaf if leaf in self.fields else ""


def option_of(field: str) -> str:
    """The option of a season document that a field of the form is about."""
    for prefix, option in (("rank_", "criteria"), ("must_", "must")):
        if field.startswith(prefix):
            return option
    return field


def ordered(data: Mapping[str, Any]) -> list[str]:
    """The criteria that have a rank, by it; of equal ranks the usual order decides."""
    ranked = [(data[f"rank_{name}"], place, name) for place, name in enumerate(CRITERIA) if data[f"rank_{name}"]]
    return [name for _rank, _place, name in sorted(ranked)]


class PlaceForm(forms.Form):
    """What the draw looks at beside results."""

    division = forms.ModelChoiceField(
        label=_("Division"), queryset=Division.objects.none(), required=False, empty_label=_("none")
    )
    seed_number = forms.IntegerField(
        label=_("Place in the seeding"),
        min_value=1,
        max_value=10_000,
        required=False,
        help_text=_("1 is the strongest. Without one the lot decides."),
    )
    party = forms.CharField(
        label=_("Household or travelling party"),
        max_length=60,
        required=False,
        help_text=_("Those with the same word here do not meet while that can be helped."),
    )
    is_newcomer = forms.BooleanField(
        label=_("New to the game"),
        required=False,
        help_text=_("Does not meet the two strongest while that can be helped."),
    )

    def __init__(self, *args: Any, season: Season, **options: Any) -> None:
        super().__init__(*args, **options)
        divisions = season.divisions.order_by("level")
        self.fields["division"].queryset = divisions
        if not divisions:
            self.fields["division"].widget = forms.HiddenInput()


class SeedingForm(forms.Form):
    order = forms.ChoiceField(
        label=_("Number the seeding"),
        choices=[
            ("rating", _("by the club's ratings: the strongest is 1, those without a rating come after, by lot")),
            ("lot", _("by lot alone: nobody has a place")),
        ],
        widget=forms.RadioSelect,
        initial="rating",
    )
