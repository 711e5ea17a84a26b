"""Planning a game: when, where, over what, and its sides, two or more, one player or several each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from league.battles.forms.quick import ScenarioField
from league.battles.models import Game
from league.battles.queries.quick import ScenarioChoice
from league.battles.services.plans import SidePlan
from league.clubs.models import Member, Night, Table
from league.rosters.models import Roster
from league.web import SubmissionField

__all__ = ["SIDES_MOST", "GameForm", "PlanForm", "SideForm", "side_forms"]

SIDES_MOST = 8
OTHER_PLACES = {"ruleset": "scenario", "sides": ""}


def roster_choices(rosters: Iterable[Roster]) -> list[tuple[str, Any]]:
    groups: dict[str, list[tuple[int, str]]] = {}
    for roster in rosters:
        groups.setdefault(roster.owner.name, []).append((roster.pk, f"{roster.name} ({roster.ruleset.name})"))
    return [("", _("none")), *groups.items()]


def role_choices(scenarios: Iterable[ScenarioChoice], roles: dict[str, Sequence[tuple[str, str]]]) -> list[Any]:
    return [("", _("as it falls")), *((each.name, roles[each.value]) for each in scenarios if roles.get(each.value))]


class PlanForm(forms.Form):
    """The game as a whole; its sides are `SideForm`s beside it."""

    submission = SubmissionField()
    on = forms.DateField(label=_("Date"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    scenario = ScenarioField(label=_("Scenario"))
    night = forms.ModelChoiceField(
        label=_("Night (optional)"), queryset=Night.objects.none(), required=False, empty_label=_("no club night")
    )
    table = forms.ModelChoiceField(
        label=_("Table (optional)"), queryset=Table.objects.none(), required=False, empty_label=_("any table")
    )
    note = forms.CharField(
        label=_("Note (optional)"), required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 3})
    )

    def __init__(
        self, *args: Any, scenarios: Sequence[ScenarioChoice], nights: Any, tables: Any, **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.fields["scenario"].offer(scenarios)
        self.fields["night"].queryset = nights
        self.fields["night"].label_from_instance = lambda night: f"{night.on:%Y-%m-%d} {night.title}".strip()
        self.fields["table"].queryset = tables
        self.fields["table"].label_from_instance = lambda table: f"{table} \N{EN DASH} {table.venue.name}"

    def place_of(self, field: str) -> str:
        return OTHER_PLACES.get(field, field)


class GameForm(PlanForm):
    """A change of plan: every change is its own, so it needs no name to be safe twice."""

    submission = None  # type: ignore[assignment]  # Django's way to leave an inherited field out

    def begin_from(self, game: Game) -> None:
        self.fields["scenario"].initial = f"{game.edition_id}:{game.scenario}"
        for name in ("on", "night", "table", "note"):
            self.fields[name].initial = getattr(game, name)


class SideForm(forms.Form):
    player = forms.TypedChoiceField(label=_("Player"), coerce=int, required=False, empty_value=None)
    others = forms.TypedMultipleChoiceField(
        label=_("More players of this side (optional)"),
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    role = forms.ChoiceField(label=_("Role (optional)"), required=False)
    roster_id = forms.TypedChoiceField(label=_("Roster (optional)"), coerce=int, required=False, empty_value=None)

    def __init__(
        self, *args: Any, members: Sequence[Member], roles: list[Any], rosters: list[Any], **options: Any
    ) -> None:
        super().__init__(*args, **options)
        people = [(member.pk, member.name) for member in members]
        self.fields["player"].choices = [("", _("choose")), *people]
        self.fields["others"].choices = people
        self.fields["role"].choices = roles
        self.fields["roster_id"].choices = rosters

    def plan(self) -> SidePlan:
        data = self.cleaned_data
        first = [data["player"]] if data["player"] else []
        return SidePlan(
            member_ids=[*first, *(member_id for member_id in data["others"] if member_id not in first)],
            role=data["role"],
            roster_id=data["roster_id"],
        )


class SeatedSideForm(SideForm):
    """A side whose players are fixed; only what it plays as can change."""

    player = None  # type: ignore[assignment]
    others = None  # type: ignore[assignment]


def side_forms(
    count: int, data: Any, options: dict[str, Any], *, initial: Sequence[dict[str, Any]] = ()
) -> list[SideForm]:
    """As many forms as there are sides, named `sides.0`, `sides.1`, as the service names their places."""
    return [
        SideForm(data, prefix=f"sides.{index}", initial=initial[index] if index < len(initial) else None, **options)
        for index in range(count)
    ]
