"""How a unit is typed, alone or as a row among others."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from league.engines.rulesets import Ruleset
from league.rosters.models import Unit
from league.rosters.services.facts import FIGURES_MOST, POINTS_MOST, UnitFacts

__all__ = ["GearField", "UnitForm", "UnitRow"]


class GearField(forms.CharField):
    """Pieces of gear with semicolons between them, cleaned to a tuple."""

    def prepare_value(self, value: Any) -> Any:
        return "; ".join(value) if isinstance(value, list | tuple) else value

    def has_changed(self, initial: Any, data: Any) -> bool:
        return super().has_changed(self.prepare_value(initial), data)

    def clean(self, value: Any) -> tuple[str, ...]:
        return tuple(part for each in super().clean(value).split(";") if (part := each.strip()))


class UnitRow(forms.Form):
    """A unit of a roster; `rules` give the classes and qualities, `unit` those it has although the rules dropped them."""

    name = forms.CharField(label=_("Name"), max_length=80, error_messages={"required": _("Give the unit a name.")})
    unit_class = forms.ChoiceField(label=_("Class"))
    figures = forms.IntegerField(label=_("Figures"), min_value=1, max_value=FIGURES_MOST)
    quality = forms.ChoiceField(label=_("Quality"), required=False)
    points = forms.IntegerField(label=_("Points"), min_value=0, max_value=POINTS_MOST)
    gear = GearField(
        label=_("Gear"), required=False, max_length=2000, help_text=_("Put a semicolon between two pieces.")
    )

    def __init__(self, *args: Any, rules: Ruleset, unit: Unit | None = None, **options: Any) -> None:
        super().__init__(*args, **options)
        had = (unit.unit_class, unit.quality) if unit else ("", "")
        self.fields["unit_class"].choices = choices([(each.key, each.name) for each in rules.unit_classes], had[0])
        self.fields["quality"].choices = choices([(each.key, each.name) for each in rules.qualities], had[1])

    def facts(self) -> UnitFacts:
        said = self.cleaned_data
        return UnitFacts(
            name=said["name"],
            unit_class=said["unit_class"],
            figures=said["figures"],
            points=said["points"],
            quality=said["quality"],
            gear=said["gear"],
        )


class UnitForm(UnitRow):
    version = forms.IntegerField(widget=forms.HiddenInput)


def choices(known: list[tuple[str, str]], had: str) -> list[tuple[str, str]]:
    kept = [(had, had)] if had and had not in dict(known) else []
    return [("", "–"), *known, *kept]
