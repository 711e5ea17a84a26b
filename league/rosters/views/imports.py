"""Units from pasted lines or a file: a preview first, written when confirmed. Nothing is kept in between."""

from __future__ import annotations

from typing import Any

from django import forms
from django.http import HttpResponse
from django.utils.translation import gettext_lazy

from league.engines.roster_text import ParsedRoster
from league.engines.rulesets import Ruleset as Rules
from league.rosters.forms.imports import ImportForm, NewFromTextForm
from league.rosters.models import Roster
from league.rosters.queries.previews import preview_of
from league.rosters.services.rosters import create_roster, import_units
from league.rosters.views.beginning import WithRuleset
from league.rosters.views.rows import ChangeRoster
from league.rulesets.queries import current_edition, rules_of
from league.web import ServiceFormView

__all__ = ["RosterFromText", "RosterImport"]


class Previewing(ServiceFormView):
    """Shows what was read of the text until the person confirms exactly that."""

    template_name = "rosters/import.html"
    button = gettext_lazy("Look at it")

    def form_valid(self, form: Any) -> HttpResponse:
        parsed = form.parsed()
        if "write" in self.request.POST and form.is_confirmed(parsed):
            return super().form_valid(form)
        return self.show(form, parsed)

    def form_invalid(self, form: Any) -> HttpResponse:
        if form.cleaned_data.get("text"):
            return self.show(form, form.parsed(), status=422)
        return super().form_invalid(form)

    def show(self, form: Any, parsed: ParsedRoster, status: int = 200) -> HttpResponse:
        form.as_preview(parsed)
        context = self.get_context_data(form=form, preview=preview_of(parsed, form.rules))
        return self.render_to_response(context, status=status)


class RosterImport(Previewing, ChangeRoster):
    template_name = "rosters/import.html"
    form_class = ImportForm
    title = gettext_lazy("Add units from a list")
    done_message = gettext_lazy("The units are added.")

    def rules(self) -> Rules:
        return rules_of(current_edition(self.roster.ruleset))

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "rules": self.rules()}

    def get_initial(self) -> dict[str, Any]:
        return {"version": self.roster.version}

    def act(self, form: ImportForm) -> Roster:
        return import_units(self.roster, units=form.facts(), version=form.cleaned_data["version"], by=self.member)


class RosterFromText(WithRuleset, Previewing):
    form_class = NewFromTextForm
    title = gettext_lazy("A roster from a list")
    done_message = gettext_lazy("The roster is written.")

    def act(self, form: forms.BaseForm) -> Roster:
        said = form.cleaned_data
        facts = {name: said[name] for name in ("owner", "name", "faction", "points_limit", "note", "submission")}
        return create_roster(self.club, ruleset=self.ruleset, units=form.facts(), **facts, by=self.member)
