"""Planning a game and changing its plan; works without scripts, “Add a side” included."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from league.battles import permissions
from league.battles.forms.plan import SIDES_MOST, GameForm, PlanForm, SeatedForm, SideForm
from league.battles.models import Game
from league.battles.queries.choices import PlanChoices, plan_choices
from league.battles.services.games import change_game, plan_game
from league.battles.views.rows import OnGame
from league.clubs.scope import InClub
from league.errors import Refused, Violation
from league.web import ServiceFormView, add_refusal

__all__ = ["GameEdit", "GameNew"]


class PlanPage(ServiceFormView):
    """A form for the game and one for each side, answered together."""

    template_name = "battles/game_form.html"
    choices: PlanChoices
    sides: list[Any]
    can_add = False

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "choices": self.choices}

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        form = self.get_form()
        if not all([form.is_valid(), *(side.is_valid() for side in self.sides)]):
            return self.form_invalid(form)
        try:
            self.result = self.act(form)
        except Refused as refusal:
            self.show(form, refusal)
            return self.form_invalid(form)
        messages.success(request, self.done_message)
        return redirect(self.get_success_url())

    def show(self, form: PlanForm, refusal: Refused) -> None:
        """Each fault at the form it concerns."""
        for each in refusal.violations:
            place, at = form.place_of(each.field), form
            if place.startswith("sides."):
                _sides, index, name = place.split(".", 2)
                at, place = self.sides[int(index)], {"member_ids": "player"}.get(name, name)
            add_refusal(at, Refused(Violation(each.message, place, each.code)))

    def get_success_url(self) -> str:
        return reverse("game", kwargs={"club": self.result.club.slug, "pk": self.result.pk})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(sides=self.sides, count=len(self.sides), can_add=self.can_add, **context)


class GameNew(InClub, PlanPage):
    form_class = PlanForm
    title = _("Plan a game")
    button = _("Save the plan")
    done_message = _("The game is planned.")

    @cached_property
    def choices(self) -> PlanChoices:
        return plan_choices(self.member, timezone.localdate())

    @property
    def count(self) -> int:
        """How many sides the page has."""
        asked = self.request.POST.get("count", "")
        count = int(asked) if asked in {str(number) for number in range(2, SIDES_MOST + 1)} else 2
        return min(count + ("add_side" in self.request.POST), SIDES_MOST)

    @property
    def can_add(self) -> bool:
        return self.count < SIDES_MOST

    @cached_property
    def sides(self) -> list[SideForm]:
        return [
            SideForm(
                self.request.POST or None,
                prefix=f"sides.{index}",
                initial={} if index else {"player": self.member.pk},
                choices=self.choices,
            )
            for index in range(self.count)
        ]

    def get_initial(self) -> dict[str, Any]:
        usual = self.choices.usual
        return {"on": timezone.localdate(), "night": self.choices.night, "scenario": usual.value if usual else None}

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if "add_side" in request.POST:
            return self.with_another_side()
        return super().post(request, *args, **kwargs)

    def with_another_side(self) -> HttpResponse:
        """The page as typed, without complaints about what is not filled in yet."""
        typed, form = self.request.POST, self.get_form()
        form.is_bound, form.initial = False, typed.dict()
        for side in self.sides:
            side.is_bound = False
            side.initial = {name: typed.get(side.add_prefix(name)) for name in side.fields}
            side.initial["others"] = typed.getlist(side.add_prefix("others"))
        return self.render_to_response(self.get_context_data(form=form))

    def act(self, form: PlanForm) -> Game:
        data = form.cleaned_data
        return plan_game(
            self.club,
            edition=data["scenario"].edition,
            scenario=data["scenario"].key,
            on=data["on"],
            sides=[side.plan() for side in self.sides],
            night=data["night"],
            table=data["table"],
            note=data["note"],
            submission=data["submission"],
            by=self.member,
        )


class GameEdit(OnGame, PlanPage):
    """The same page with its players fixed."""

    form_class = GameForm
    title = _("Change the plan")
    done_message = _("The plan is changed.")

    def allows(self) -> bool:
        return permissions.can_change_game(self.member, self.game)

    @cached_property
    def choices(self) -> PlanChoices:
        return plan_choices(self.member, timezone.localdate(), changing=self.game)

    @cached_property
    def sides(self) -> list[SeatedForm]:
        return [
            SeatedForm(self.request.POST or None, prefix=f"sides.{index}", side=side, choices=self.choices)
            for index, side in enumerate(self.game.sides.all())
        ]

    def get_initial(self) -> dict[str, Any]:
        return GameForm.beginning(self.game)

    def act(self, form: GameForm) -> Game:
        data = form.cleaned_data
        return change_game(
            self.game,
            scenario=data["scenario"].key,
            on=data["on"],
            sides=[side.plan() for side in self.sides],
            night=data["night"],
            table=data["table"],
            note=data["note"],
            by=self.member,
        )
