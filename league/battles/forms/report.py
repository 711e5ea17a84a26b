"""The full report: one group of fields a side, one line a unit. Built from the game's sheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from league.battles.forms.quick import score_input
from league.battles.models import Report
from league.battles.queries.forces import ForceUnit
from league.battles.queries.sheets import Sheet, SheetSide, WrittenSide
from league.battles.services.claims import CasualtyLine, ReportClaim, SideClaim
from league.web import SubmissionField

__all__ = ["CorrectionForm", "ReportForm"]


@dataclass(frozen=True, kw_only=True, slots=True)
class UnitFields:
    unit: ForceUnit
    figures_lost: forms.BoundField
    destroyed: forms.BoundField
    routed: forms.BoundField


@dataclass(frozen=True, kw_only=True, slots=True)
class SideFields:
    side: SheetSide
    score: forms.BoundField
    objectives: list[forms.BoundField]
    conceded: forms.BoundField
    units: list[UnitFields]


class ReportForm(forms.Form):
    """Field names are the places the service speaks of: `sides.0.score`, `sides.0.unit.12.figures_lost`."""

    submission = SubmissionField()
    fought_on = forms.DateField(label=_("Fought on"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    rounds_played = forms.IntegerField(label=_("Rounds played"), required=False, widget=score_input())
    markers_peak = forms.IntegerField(
        label=_("Most suppression markers in use at once"),
        required=False,
        widget=score_input(),
        help_text=_("On the whole table, both sides together. It tells the club how many to bring."),
    )
    notes = forms.CharField(label=_("Notes"), required=False, max_length=5000, widget=forms.Textarea(attrs={"rows": 4}))

    def __init__(self, *args: Any, sheet: Sheet, today: date, **options: Any) -> None:
        super().__init__(*args, **options)
        self.sheet = sheet
        self.fields["fought_on"].initial = min(sheet.game.on, today)
        if sheet.scenario and sheet.scenario.rounds_most:
            self.fields["rounds_played"].widget.attrs["max"] = sheet.scenario.rounds_most
        # Where the rosters name the n-th line of a side, the form has the line of a unit.
        self.places: dict[str, str] = {}
        for index, side in enumerate(sheet.sides):
            self.add_side(index, side)

    def score_field(self) -> forms.IntegerField:
        """Nobody but the service knows whether it can be left out: it comes from the objectives, or a side conceded."""
        help_text = _("Left empty it is worked out from the objectives.") if self.sheet.objectives else ""
        field = forms.IntegerField(label=_("Score"), required=False, widget=score_input(), help_text=help_text)
        field.is_asked = not self.sheet.objectives  # type: ignore[attr-defined]  # the template says "optional" else
        return field

    def add_side(self, index: int, side: SheetSide) -> None:
        at = f"sides.{index}"
        self.fields[f"{at}.score"] = self.score_field()
        for objective in self.sheet.objectives:
            field = forms.IntegerField(label=objective.name, required=False, widget=score_input())
            if objective.most is not None:
                field.widget.attrs["max"] = objective.most
            self.fields[f"{at}.objectives.{objective.key}"] = field
        self.fields[f"{at}.conceded"] = forms.BooleanField(label=_("Conceded"), required=False)
        for unit in side.units:
            line = f"{at}.unit.{unit.id}"
            self.fields[f"{line}.figures_lost"] = forms.IntegerField(
                # A plain field: a minus and a plus beside each unit would not fit a phone.
                label=_("Figures lost"),
                required=False,
                widget=forms.NumberInput(attrs={"inputmode": "numeric", "min": 0}),
            )
            self.fields[f"{line}.destroyed"] = forms.BooleanField(label=_("Destroyed"), required=False)
            self.fields[f"{line}.routed"] = forms.BooleanField(label=_("Routed"), required=False)

    def side_fields(self) -> Iterator[SideFields]:
        """The fields as the template lays them out."""
        for index, side in enumerate(self.sheet.sides):
            at = f"sides.{index}"
            yield SideFields(
                side=side,
                score=self[f"{at}.score"],
                objectives=[self[f"{at}.objectives.{objective.key}"] for objective in self.sheet.objectives],
                conceded=self[f"{at}.conceded"],
                units=[
                    UnitFields(
                        unit=unit,
                        figures_lost=self[f"{at}.unit.{unit.id}.figures_lost"],
                        destroyed=self[f"{at}.unit.{unit.id}.destroyed"],
                        routed=self[f"{at}.unit.{unit.id}.routed"],
                    )
                    for unit in side.units
                ],
            )

    def claim(self) -> ReportClaim:
        data = self.cleaned_data
        return ReportClaim(
            fought_on=data["fought_on"],
            rounds_played=data["rounds_played"],
            markers_peak=data["markers_peak"],
            notes=data["notes"],
            sides=[self.side_claim(index, side) for index, side in enumerate(self.sheet.sides)],
            is_full=True,
        )

    def side_claim(self, index: int, side: SheetSide) -> SideClaim:
        data, at = self.cleaned_data, f"sides.{index}"
        counted = {
            objective.key: data[f"{at}.objectives.{objective.key}"]
            for objective in self.sheet.objectives
            if data[f"{at}.objectives.{objective.key}"] is not None
        }
        lines = []
        for unit in side.units:
            line = self.line(f"{at}.unit.{unit.id}", unit)
            if line is not None:
                self.places[f"{at}.casualties.{len(lines)}"] = f"{at}.unit.{unit.id}"
                lines.append(line)
        return SideClaim(
            position=side.position,
            score=data[f"{at}.score"],
            # Nothing counted is nothing said: then the score alone speaks.
            objectives=counted or None,
            conceded=data[f"{at}.conceded"],
            casualties=lines,
        )

    def line(self, at: str, unit: ForceUnit) -> CasualtyLine | None:
        """One unit's line, or None when nothing was said of it. Destroyed without a number means all who stood."""
        data = self.cleaned_data
        lost, destroyed, routed = data[f"{at}.figures_lost"], data[f"{at}.destroyed"], data[f"{at}.routed"]
        if lost is None:
            lost = unit.present if destroyed else 0
        if not (lost or destroyed or routed):
            return None
        return CasualtyLine(unit_id=unit.id, figures_lost=lost, destroyed=destroyed, routed=routed)

    def place_of(self, field: str) -> str:
        """The form's field for a place the service named."""
        for place, ours in self.places.items():
            if field == place:
                return f"{ours}.figures_lost"
            if field.startswith(f"{place}."):
                return ours + field.removeprefix(place)
        return field


class CorrectionForm(ReportForm):
    """A report that begins from what the earlier one says."""

    reason = forms.CharField(
        label=_("Why it is corrected"),
        max_length=200,
        error_messages={"required": _("Say why the report is corrected.")},
    )
    field_order = ["submission", "reason"]

    def __init__(
        self, *args: Any, report: Report, written: Mapping[int, WrittenSide], reason: str = "", **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.fields["reason"].initial = reason
        for name in ("fought_on", "rounds_played", "markers_peak", "notes"):
            self.fields[name].initial = getattr(report, name)
        for index, side in enumerate(self.sheet.sides):
            self.begin_from(index, written.get(side.position))

    def begin_from(self, index: int, side: WrittenSide | None) -> None:
        if side is None:
            return
        at = f"sides.{index}"
        self.fields[f"{at}.conceded"].initial = side.conceded
        counted = {key for key in side.objectives if f"{at}.objectives.{key}" in self.fields}
        for objective in self.sheet.objectives if counted else ():
            self.fields[f"{at}.objectives.{objective.key}"].initial = side.objectives.get(objective.key, 0)
        if not counted:
            # A score that came from objectives is worked out again from them.
            self.fields[f"{at}.score"].initial = side.score
        for line in side.lines:
            name = f"{at}.unit.{line.unit_id}"
            if f"{name}.figures_lost" in self.fields:
                self.fields[f"{name}.figures_lost"].initial = line.figures_lost
                self.fields[f"{name}.destroyed"].initial = line.destroyed
                self.fields[f"{name}.routed"].initial = line.routed
