"""Planning a game: when, where, over what, and its sides, two or more, one player or several each."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from league.battles.forms.quick import ScenarioField
from league.battles.models import Game, Side
from league.battles.queries.choices import PlanChoices
from league.battles.queries.quick import ScenarioChoice
from league.battles.services.plans import SidePlan
from league.clubs.models import Night, Table
from league.rosters.models import Roster
from league.web import SubmissionField

__all__ = ["SIDES_MOST", "GameForm", "PlanForm", "SeatedForm", "SideForm"]

SIDES_MOST = 8
OTHER_PLACES = {"ruleset": "scenario", "sides": ""}


def roster_choices(rosters: Iterable[Roster]) -> list[tuple[str, Any]]:
    groups: dict[str, list[tuple[int, str]]] = {}
    for roster in rosters:
        groups.setdefault(roster.owner.name, []).append((roster.pk, f"{roster.name} ({roster.ruleset.name})"))
    return [("", _("none")), *groups.items()]


def role_choices(scenarios: Iterable[ScenarioChoice]) -> list[Any]:
    return [("", _("as it falls")), *((each.name, list(each.roles)) for each in scenarios if each.roles)]


class PlanForm(forms.Form):
    """The game as a whole; its sides are `SideForm`s beside it."""

    submission = SubmissionField()
    on = forms.DateField(label=_("Date"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    scenario = ScenarioField(label=_("Scenario"))
    night = forms.ModelChoiceField(
        label=_("Night"), queryset=Night.objects.none(), required=False, empty_label=_("no club night")
    )
    table = forms.ModelChoiceField(
        label=_("Table"), queryset=Table.objects.none(), required=False, empty_label=_("any table")
    )
    note = forms.CharField(label=_("Note"), required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 3}))

    def __init__(self, *args: Any, choices: PlanChoices, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["scenario"].offer(choices.scenarios)
        self.fields["night"].queryset = choices.nights
        self.fields["night"].label_from_instance = lambda night: f"{night.on:%Y-%m-%d} {night.title}".strip()
        self.fields["table"].queryset = choices.tables
        self.fields["table"].label_from_instance = lambda table: f"{table} \N{EN DASH} {table.venue.name}"

    def place_of(self, field: str) -> str:
        return OTHER_PLACES.get(field, field)


class GameForm(PlanForm):
    """A change of plan: every change is its own, so it needs no name to be safe twice."""

    submission = None  # type: ignore[assignment]  # Django's way to leave an inherited field out

    @staticmethod
    def beginning(game: Game) -> dict[str, Any]:
        return {
            "scenario": f"{game.edition_id}:{game.scenario}",
            "on": game.on,
            "night": game.night_id,
            "table": game.table_id,
            "note": game.note,
        }


class RoleForm(forms.Form):
    """What a side plays as, and with which roster."""

    role = forms.ChoiceField(label=_("Role"), required=False)
    roster_id = forms.TypedChoiceField(label=_("Roster"), coerce=int, required=False, empty_value=None)

    def __init__(self, *args: Any, choices: PlanChoices, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["role"].choices = role_choices(choices.scenarios)
        self.fields["roster_id"].choices = roster_choices(choices.rosters)


class SideForm(RoleForm):
    """A side of a new game: besides, who plays on it."""

    player = forms.TypedChoiceField(
        label=_("Player"), coerce=int, error_messages={"required": _("Say who plays on this side.")}
    )
    others = forms.TypedMultipleChoiceField(
        label=_("More players of this side"), coerce=int, required=False, widget=forms.CheckboxSelectMultiple
    )
    field_order = ["player", "role", "roster_id", "others"]

    def __init__(self, *args: Any, choices: PlanChoices, **options: Any) -> None:
        super().__init__(*args, choices=choices, **options)
        people = [(member.pk, member.name) for member in choices.members]
        self.fields["player"].choices = [("", _("choose")), *people]
        self.fields["others"].choices = people

    def plan(self) -> SidePlan:
        data = self.cleaned_data
        first = data["player"]
        return SidePlan(
            member_ids=[first, *(member_id for member_id in data["others"] if member_id != first)],
            role=data["role"],
            roster_id=data["roster_id"],
        )


class SeatedForm(RoleForm):
    """A side of a planned game: its players are fixed, `names` and `member_ids`."""

    def __init__(self, *args: Any, side: Side, **options: Any) -> None:
        super().__init__(*args, initial={"role": side.role, "roster_id": side.roster_id}, **options)
        players = list(side.players.all())
        self.member_ids = [player.member_id for player in players]
        self.names = ", ".join(player.member.name for player in players)

    def plan(self) -> SidePlan:
        data = self.cleaned_data
        return SidePlan(member_ids=self.member_ids, role=data["role"], roster_id=data["roster_id"])
