"""Writing a roster row by row, changing it and its units, copying and retiring it."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.errors import Refused
from league.rosters.forms.rosters import CopyForm, NewRosterForm, RosterForm
from league.rosters.forms.units import UnitForm
from league.rosters.models import Roster, Unit
from league.rosters.permissions import can_copy_roster, can_retire_roster
from league.rosters.queries.choices import owners_for
from league.rosters.services.facts import facts_of
from league.rosters.services.rosters import (
    bring_back_roster,
    change_roster,
    copy_roster,
    create_roster,
    retire_roster,
)
from league.rosters.services.units import add_unit, change_unit, remove_unit
from league.rosters.views.beginning import WithRuleset
from league.rosters.views.rows import ChangeRoster, OnRoster, OnUnit
from league.rulesets.queries import current_edition, rules_of
from league.web import ServiceFormView

__all__ = [
    "RosterBringBack",
    "RosterCopy",
    "RosterEdit",
    "RosterNew",
    "RosterRetire",
    "UnitEdit",
    "UnitNew",
    "UnitRemove",
]


class RosterNew(WithRuleset, ServiceFormView):
    template_name = "rosters/roster_new.html"
    form_class = NewRosterForm
    title = gettext_lazy("Write a roster")
    button = gettext_lazy("Save the roster")
    done_message = gettext_lazy("The roster is written.")

    def act(self, form: NewRosterForm) -> Roster:
        return create_roster(
            self.club, ruleset=self.ruleset, units=form.unit_facts(), **form.cleaned_data, by=self.member
        )

    def form_valid(self, form: NewRosterForm) -> HttpResponse:
        try:
            self.result = self.act(form)
        except Refused as refusal:
            form.show_refusal(refusal)
            return self.form_invalid(form)
        messages.success(self.request, self.done_message)
        return redirect(self.get_success_url())


class RosterEdit(ChangeRoster):
    form_class = RosterForm
    title = gettext_lazy("Describe the roster")
    done_message = gettext_lazy("The roster is saved.")

    def get_initial(self) -> dict[str, Any]:
        return {field: getattr(self.roster, field) for field in RosterForm.base_fields}

    def act(self, form: forms.BaseForm) -> Roster:
        return change_roster(self.roster, **form.cleaned_data, by=self.member)


class RosterCopy(OnRoster, ServiceFormView):
    template_name = "form_page.html"
    form_class = CopyForm
    title = gettext_lazy("Copy this roster")
    button = gettext_lazy("Copy it")
    done_message = gettext_lazy("This is the copy: every unit at full strength, with no battles behind it.")

    def allows(self) -> bool:
        return super().allows() and can_copy_roster(self.member, self.club)

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "owners": owners_for(self.member), "me": self.member}

    def get_initial(self) -> dict[str, Any]:
        return {"name": (_("%(name)s, copy") % {"name": self.roster.name})[:80]}

    def act(self, form: forms.BaseForm) -> Roster:
        return copy_roster(self.roster, **form.cleaned_data, by=self.member)

    def get_success_url(self) -> str:
        return reverse("roster", kwargs={"club": self.club.slug, "pk": self.result.pk})

    def get_cancel_url(self) -> str:
        return self.address()


class RosterRetire(ChangeRoster):
    template_name = "confirm.html"
    form_class = forms.Form
    title = gettext_lazy("Retire this roster?")
    button = gettext_lazy("Retire it")
    done_message = gettext_lazy("The roster is retired.")
    extra_context = {
        "question": gettext_lazy("It takes the field no more. Its record stays, and it can be brought back.")
    }

    def act(self, form: forms.BaseForm) -> Roster:
        return retire_roster(self.roster, by=self.member)


class RosterBringBack(OnRoster, ServiceFormView):
    template_name = "confirm.html"
    form_class = forms.Form
    title = gettext_lazy("Bring this roster back?")
    button = gettext_lazy("Bring it back")
    done_message = gettext_lazy("The roster is in use again.")

    def allows(self) -> bool:
        return super().allows() and can_retire_roster(self.member, self.roster)

    def act(self, form: forms.BaseForm) -> Roster:
        return bring_back_roster(self.roster, by=self.member)

    def get_success_url(self) -> str:
        return self.address()

    def get_cancel_url(self) -> str:
        return self.address()


class UnitNew(ChangeRoster):
    form_class = UnitForm
    title = gettext_lazy("Add a unit")
    button = gettext_lazy("Add it")
    done_message = gettext_lazy("The unit is added.")

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "rules": rules_of(current_edition(self.roster.ruleset))}

    def get_initial(self) -> dict[str, Any]:
        return {"version": self.roster.version}

    def act(self, form: UnitForm) -> Unit:
        return add_unit(self.roster, facts=form.facts(), version=form.cleaned_data["version"], by=self.member)


class UnitEdit(OnUnit):
    form_class = UnitForm
    done_message = gettext_lazy("The unit is saved.")
    extra_context = {
        "intro": gettext_lazy("Battles it has fought stay what they were; each keeps the class and quality of its day.")
    }

    def get_form_kwargs(self) -> dict[str, Any]:
        rules = rules_of(current_edition(self.roster.ruleset))
        return {**super().get_form_kwargs(), "rules": rules, "unit": self.unit}

    def get_initial(self) -> dict[str, Any]:
        facts = facts_of(self.unit)
        return {
            "version": self.roster.version,
            **{field: getattr(facts, field) for field in UnitForm.base_fields if field != "version"},
        }

    def act(self, form: UnitForm) -> Unit:
        return change_unit(self.unit, facts=form.facts(), version=form.cleaned_data["version"], by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {**super().get_context_data(**context), "title": self.unit.name}


class UnitRemove(OnUnit):
    template_name = "confirm.html"
    form_class = forms.Form
    button = gettext_lazy("Take it off the roster")
    done_message = gettext_lazy("The unit is off the roster.")
    extra_context = {"question": gettext_lazy("Its record stays with the roster's battles.")}

    def act(self, form: forms.BaseForm) -> Unit:
        return remove_unit(self.unit, by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        title = _("Take %(unit)s off the roster?") % {"unit": self.unit.name}
        return {**super().get_context_data(**context), "title": title}
