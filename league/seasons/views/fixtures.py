"""A list of fixtures: looked at first, then taken in."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.utils.translation import gettext_lazy as _

from league.seasons.forms.fixtures import FixturesForm
from league.seasons.models import Pairing
from league.seasons.queries.fixtures import read_fixtures
from league.seasons.services.fixtures import import_fixtures
from league.seasons.tables.fixtures import FixtureTable
from league.seasons.views.rows import RunsSeason

__all__ = ["FixturesImport"]


class FixturesImport(RunsSeason):
    template_name = "seasons/fixtures_form.html"
    form_class = FixturesForm
    title = _("Pairings from a list")
    done_message = _("The list is taken in and its games are planned.")

    def form_valid(self, form: FixturesForm) -> HttpResponse:
        if self.request.POST.get("step") == "take":
            return super().form_valid(form)
        return self.render_to_response(self.get_context_data(form=form))

    def serve(self, form: FixturesForm) -> list[Pairing]:
        return import_fixtures(self.season, **form.cleaned_data, by=self.member)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        form = context.get("form")
        text = form.cleaned_data.get("text", "") if form is not None and form.is_bound and form.is_valid() else ""
        lines = read_fixtures(self.season, text) if text else ()
        bad = sum(bool(line.faults) for line in lines)
        table = FixtureTable(lines, club=self.club.slug, request=self.request) if lines else None
        return super().get_context_data(table=table, bad=bad, can_take=bool(lines) and not bad, **context)
