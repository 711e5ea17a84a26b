"""Entering, changing who plays, leaving, coming back."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from league.seasons.forms.small import EnterForm, EntrantForm, WithdrawForm
from league.seasons.models import Entrant
from league.seasons.queries.pages import free_members
from league.seasons.services.entrants import change_entrant, enter, enter_each, readmit, withdraw
from league.seasons.views.rows import OnEntrant, RunsSeason

__all__ = ["EntrantEdit", "EntrantLeave", "EntrantNew", "EntrantReturn"]


class EntrantNew(RunsSeason):
    form_class = EnterForm
    title = _("Enter players")
    button = _("Enter them")
    done_message = _("They are entered.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "people": free_members(self.season)}

    def serve(self, form: EnterForm) -> list[Entrant]:
        name, member_ids = form.cleaned_data["name"], form.cleaned_data["member_ids"]
        if name:
            return [enter(self.season, name=name, member_ids=member_ids, by=self.member)]
        return enter_each(self.season, member_ids=member_ids, by=self.member)


class EntrantEdit(OnEntrant):
    form_class = EntrantForm
    title = _("Change an entrant")
    done_message = _("The entrant is changed. Games already planned keep the players they have.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "people": free_members(self.season, but=self.entrant)}

    def get_initial(self) -> dict[str, Any]:
        players = self.entrant.players.values_list("member_id", flat=True)
        return {"name": self.entrant.name, "member_ids": list(players)}

    def serve(self, form: EntrantForm) -> Entrant:
        return change_entrant(self.entrant, **form.cleaned_data, by=self.member)


class EntrantLeave(OnEntrant):
    form_class = WithdrawForm
    title = _("Take an entrant out")
    button = _("Take them out")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "rounds": self.season.rounds.order_by("number")}

    def serve(self, form: WithdrawForm) -> Entrant:
        return withdraw(self.entrant, **form.cleaned_data, by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(intro=self.entrant.name, **context)


class EntrantReturn(OnEntrant):
    template_name = "confirm.html"
    form_class = forms.Form
    title = _("Let an entrant back in")
    button = _("Let them back in")

    def serve(self, form: forms.Form) -> Entrant:
        return readmit(self.entrant, by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(question=self.entrant.name, **context)
