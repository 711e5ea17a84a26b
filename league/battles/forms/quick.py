"""The quick log: who, over what, the score, done."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any

from django import forms
from django.forms.boundfield import BoundWidget
from django.utils.translation import gettext_lazy as _

from league.battles.queries.quick import People, ScenarioChoice
from league.battles.services.claims import ReportClaim, SideClaim
from league.battles.services.plans import GamePlan, SidePlan
from league.clubs.models import Member, Night
from league.web import SubmissionField

__all__ = ["QuickLogForm", "ScenarioField", "score_input"]


def score_input() -> forms.NumberInput:
    """A number the phone's keypad types and a script may put - and + beside."""
    return forms.NumberInput(attrs={"inputmode": "numeric", "min": 0, "step": 1, "class": "stepper"})


class ScenarioField(forms.ChoiceField):
    """A ruleset and one of its scenarios in one choice, grouped by ruleset; cleans to a `ScenarioChoice`."""

    def offer(self, choices: Sequence[ScenarioChoice]) -> None:
        self.by_value = {choice.value: choice for choice in choices}
        groups: dict[str, list[tuple[str, Any]]] = {}
        for choice in choices:
            words = choice.name or _("without a scenario")
            groups.setdefault(choice.edition.ruleset.name, []).append((choice.value, words))
        self.choices = list(groups.items())

    def clean(self, value: Any) -> ScenarioChoice:
        return self.by_value[super().clean(value)]


class QuickLogForm(forms.Form):
    submission = SubmissionField()
    opponent = forms.TypedChoiceField(
        label=_("Against"),
        coerce=int,
        widget=forms.RadioSelect,
        error_messages={"required": _("Choose your opponent.")},
    )
    my_score = forms.IntegerField(
        label=_("My score"), widget=score_input(), error_messages={"required": _("Enter your score.")}
    )
    their_score = forms.IntegerField(
        label=_("Their score"), widget=score_input(), error_messages={"required": _("Enter your opponent's score.")}
    )
    scenario = ScenarioField(label=_("Scenario"))
    on = forms.DateField(label=_("Date"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))

    def __init__(
        self,
        *args: Any,
        people: People,
        scenarios: Sequence[ScenarioChoice],
        usual: ScenarioChoice | None,
        today: date,
        **options: Any,
    ) -> None:
        super().__init__(*args, **options)
        groups = [
            (_("Here tonight"), people.tonight),
            (_("Met lately"), people.recent),
            (_("Everybody"), people.others),
        ]
        self.fields["opponent"].choices = [
            (words, [(member.pk, member.name) for member in members]) for words, members in groups if members
        ]
        self.fields["scenario"].offer(scenarios)
        self.fields["on"].initial = today
        if usual is not None:
            self.fields["scenario"].initial = usual.value

    def opponent_groups(self) -> Iterator[tuple[str, list[BoundWidget]]]:
        """The radio buttons as they are laid out: each group's words and its buttons."""
        buttons = iter(self["opponent"].subwidgets)
        for words, people in self.fields["opponent"].choices:
            yield words, [next(buttons) for _person in people]

    def plan(self, member: Member, night: Night | None) -> GamePlan:
        data = self.cleaned_data
        return GamePlan(
            edition=data["scenario"].edition,
            scenario=data["scenario"].key,
            on=data["on"],
            sides=[SidePlan(member_ids=[member.pk]), SidePlan(member_ids=[data["opponent"]])],
            night=night if night is not None and night.on == data["on"] else None,
        )

    def claim(self) -> ReportClaim:
        data = self.cleaned_data
        return ReportClaim(
            fought_on=data["on"],
            sides=[
                SideClaim(position=1, score=data["my_score"]),
                SideClaim(position=2, score=data["their_score"]),
            ],
        )

    def place_of(self, field: str) -> str:
        """This form's name for a field of the service."""
        names = {"sides.0.score": "my_score", "sides.1.score": "their_score", "fought_on": "on", "ruleset": "scenario"}
        return names.get(field, "opponent" if field.startswith("sides.1.") else field)
