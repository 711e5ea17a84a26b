"""The umpire's forms."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from league.campaigns.forms.drawing_up import RosterField
from league.clubs.models import Night
from league.engines import war
from league.engines.rulesets import Scenario
from league.rosters.models import Roster
from league.rosters.services.records import CasualtyLine
from league.web import SubmissionField, day_words

__all__ = [
    "AcceptForm",
    "BookForm",
    "ConcedeForm",
    "DeadlineForm",
    "ReasonForm",
    "ReinforceForm",
    "RollForm",
    "RulingForm",
    "TellForm",
]

Choices = Sequence[tuple[str, str]]
EFFECTS = 5
LOADS_MOST = 1_000_000

KINDS = [
    ("", "—"),
    ("control", _("give a region to")),
    ("place", _("put a force in")),
    ("remove", _("take a force out of the war")),
    ("depot", _("set up a depot in")),
    ("no_depot", _("take away the depot in")),
    ("stock", _("more or fewer loads in")),
    ("points", _("more or fewer points for")),
]
NEEDS = {
    "control": ("region",),
    "place": ("force", "region"),
    "remove": ("force",),
    "depot": ("region", "faction"),
    "no_depot": ("region",),
    "stock": ("region", "faction", "number"),
    "points": ("faction", "number"),
}


class DeadlineForm(forms.Form):
    due_at = forms.SplitDateTimeField(
        label=_("Orders are due"),
        widget=forms.SplitDateTimeWidget(
            date_attrs={"type": "date"}, time_attrs={"type": "time"}, date_format="%Y-%m-%d", time_format="%H:%M"
        ),
    )


class ReasonForm(forms.Form):
    reason = forms.CharField(label=_("Why"), max_length=500)


class ConcedeForm(ReasonForm):
    def __init__(self, *args: Any, winners: Choices, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["winner"] = forms.ChoiceField(label=_("Who is left the field"), choices=winners)
        self.order_fields(["winner", "reason"])


class BookForm(forms.Form):
    """On a club night, or on a day by arrangement."""

    def __init__(self, *args: Any, nights: Iterable[Night], scenarios: Iterable[Scenario], **options: Any) -> None:
        super().__init__(*args, **options)
        self.nights = {str(each.pk): each for each in nights}
        self.fields["night"] = forms.ChoiceField(
            label=_("Night"),
            choices=[("", _("by arrangement")), *((key, day_words(each.on)) for key, each in self.nights.items())],
            required=False,
        )
        self.fields["on"] = forms.DateField(
            label=_("Day, if by arrangement"), required=False, widget=forms.DateInput(attrs={"type": "date"})
        )
        self.fields["scenario"] = forms.ChoiceField(
            label=_("Scenario"),
            choices=[("", _("what suits the ground best")), *((each.key, each.name) for each in scenarios)],
            required=False,
        )

    def clean(self) -> dict[str, Any]:
        told: dict[str, Any] = super().clean() or {}
        night = self.nights.get(told.get("night") or "")
        if night is None and not told.get("on"):
            self.add_error("on", _now("Choose a night, or say on which day."))
        return {**told, "night": night, "on": night.on if night else told.get("on")}


class AcceptForm(forms.Form):
    """Accepts what was looked at, by its name."""

    seen = forms.CharField(widget=forms.HiddenInput)


class TellForm(forms.Form):
    """How a battle without a game ended: the winner, and what each unit lost. `units`: force, unit, name, figures."""

    def __init__(
        self, *args: Any, winners: Choices, units: Sequence[tuple[str, int | str, str, int]], **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.units = units
        self.fields["winner"] = forms.ChoiceField(
            label=_("Winner"), choices=[*winners, ("", _("nobody: a draw"))], required=False
        )
        for _force, unit, name, figures in units:
            self.fields[f"lost-{unit}"] = forms.IntegerField(
                label=name,
                min_value=0,
                max_value=figures,
                required=False,
                help_text=_("Lost of %(figures)s") % {"figures": figures},
            )
        self.fields["reason"] = forms.CharField(label=_("How you know"), max_length=500)

    def losses(self) -> dict[str, list[CasualtyLine]]:
        found: dict[str, list[CasualtyLine]] = {force: [] for force, *_rest in self.units}
        for force, unit, _name, figures in self.units:
            lost = self.cleaned_data.get(f"lost-{unit}")
            if lost:
                found[force].append(CasualtyLine(unit_id=int(unit), figures_lost=lost, destroyed=lost == figures))
        return found


class RollForm(forms.Form):
    """Dice as they showed on the table."""

    results = forms.CharField(label=_("What the dice show"), help_text=_("One after the other: 4 2 6."), max_length=500)

    def clean_results(self) -> list[int]:
        parts = re.split(r"[\s,;]+", self.cleaned_data["results"].strip())
        if not all(part.isascii() and part.isdigit() and len(part) < 5 for part in parts):  # noqa: PLR2004 - no die has so many sides
            raise forms.ValidationError(_now("Write numbers only."))
        return [int(part) for part in parts]


class ReinforceForm(ReasonForm):
    """A roster that enters the war while it is under way."""

    submission = SubmissionField()
    roster = RosterField(label=_("Roster"), queryset=Roster.objects.none(), empty_label=_("choose"))
    need = forms.IntegerField(
        label=_("Supply it needs"), min_value=0, max_value=LOADS_MOST, initial=3, help_text=_("Loads a turn.")
    )
    pace = forms.IntegerField(
        label=_("Pace"), min_value=1, max_value=20, initial=1, help_text=_("How many roads it may follow in a turn.")
    )

    def __init__(
        self, *args: Any, rosters: QuerySet[Roster], factions: Choices, regions: Choices, **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.fields["roster"].queryset = rosters
        self.fields["faction"] = forms.ChoiceField(label=_("Fights for"), choices=[("", _("choose")), *factions])
        self.fields["region"] = forms.ChoiceField(label=_("Enters in"), choices=[("", _("choose")), *regions])
        self.order_fields(["roster", "faction", "region", "need", "pace", "reason"])


class RulingForm(forms.Form):
    """The umpire's word and what it changes. Fields are `what-<n>`, `region-<n>`, `faction-<n>`, `force-<n>`,
    `number-<n>`; each kind of change needs its own of them."""

    submission = SubmissionField()
    reason = forms.CharField(label=_("Reason"), max_length=2000, widget=forms.Textarea(attrs={"rows": 3}))

    def __init__(self, *args: Any, regions: Choices, factions: Choices, forces: Choices, **options: Any) -> None:
        super().__init__(*args, **options)
        self.places: list[str] = []
        empty = [("", "—")]
        for n in range(EFFECTS):
            self.fields[f"what-{n}"] = forms.ChoiceField(label=_("Change"), choices=KINDS, required=False)
            self.fields[f"force-{n}"] = forms.ChoiceField(label=_("Force"), choices=[*empty, *forces], required=False)
            self.fields[f"region-{n}"] = forms.ChoiceField(
                label=_("Region"), choices=[*empty, *regions], required=False
            )
            self.fields[f"faction-{n}"] = forms.ChoiceField(
                label=_("Faction"), choices=[("", _("nobody")), *factions], required=False
            )
            self.fields[f"number-{n}"] = forms.IntegerField(
                label=_("How many"), min_value=-LOADS_MOST, max_value=LOADS_MOST, required=False
            )

    def rows(self) -> list[list[forms.BoundField]]:
        parts = ("what", "force", "region", "faction", "number")
        return [[self[f"{part}-{n}"] for part in parts] for n in range(EFFECTS)]

    def clean(self) -> dict[str, Any]:
        told: dict[str, Any] = super().clean() or {}
        for n in range(EFFECTS):
            what = told.get(f"what-{n}")
            for part in NEEDS.get(what or "", ()):
                if told.get(f"{part}-{n}") in ("", None):
                    self.add_error(f"{part}-{n}", _now("This change needs it."))
        return told

    def effects(self) -> list[war.Effect]:
        found, self.places = list[war.Effect](), []
        for n in range(EFFECTS):
            effect = self._effect(n)
            if effect is not None:
                found.append(effect)
                self.places.append(f"what-{n}")
        return found

    def _effect(self, n: int) -> war.Effect | None:
        told = {part: self.cleaned_data.get(f"{part}-{n}") for part in ("force", "region", "faction", "number")}
        region, faction, force = (str(told[part] or "") for part in ("region", "faction", "force"))
        number = int(told["number"] or 0)
        makers: dict[str, Any] = {
            "control": lambda: war.SetControl(region=region, faction=faction),
            "place": lambda: war.PlaceForce(force=force, region=region),
            "remove": lambda: war.RemoveForce(force=force),
            "depot": lambda: war.AddDepot(region=region, faction=faction),
            "no_depot": lambda: war.DropDepot(region=region),
            "stock": lambda: war.GrantStock(region=region, faction=faction, amount=number),
            "points": lambda: war.AwardPoints(faction=faction, points=number),
        }
        maker = makers.get(self.cleaned_data.get(f"what-{n}") or "")
        return maker() if maker else None

    def place_of(self, field: str) -> str:
        part, _dot, number = field.partition(".")
        if part == "effects" and number.isdigit() and int(number) < len(self.places):
            return self.places[int(number)]
        return field
