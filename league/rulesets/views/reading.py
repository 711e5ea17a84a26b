"""The club's rulesets, one of them in plain words, its editions, and its document as a file."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.generic import TemplateView, View

from league.clubs.scope import InClub
from league.rulesets.filters import RulesetFilter
from league.rulesets.forms.sections import SECTIONS
from league.rulesets.models import Edition, Ruleset
from league.rulesets.permissions import can_write_rules
from league.rulesets.queries import canonical, current_edition, editions_of, rules_of, rulesets_of, sheet_of
from league.rulesets.tables import EditionTable, RulesetTable
from league.rulesets.views.rows import OnRuleset
from league.web import TablePage

__all__ = ["EditionPage", "EditionsPage", "RulesetJson", "RulesetPage", "RulesetsPage"]


class RulesetsPage(InClub, TablePage):
    table_class = RulesetTable
    template_name = "rulesets/rulesets.html"
    title = gettext_lazy("Rulesets")
    csv_name = "rulesets"

    def get_table_data(self) -> QuerySet[Ruleset]:
        self.filterset = RulesetFilter(self.request.GET, rulesets_of(self.club).order_by("name", "pk"))
        return self.filterset.qs

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        context = super().get_context_data(**context)
        return {**context, "filter": self.filterset, "may_write": can_write_rules(self.member)}


class RulesetPage(OnRuleset, TemplateView):
    """The current edition."""

    template_name = "rulesets/ruleset.html"

    def edition(self) -> Edition:
        return current_edition(self.ruleset)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        edition = self.edition()
        return super().get_context_data(
            title=self.ruleset.name,
            edition=edition,
            sheet=sheet_of(rules_of(edition)),
            sections=SECTIONS.values(),
            **context,
        )


class EditionPage(RulesetPage):
    """One edition, the current or an older one; from here nothing is changed."""

    def edition(self) -> Edition:
        rows = Edition.objects.visible_to(self.request.user).select_related("created_by")
        return get_object_or_404(rows, ruleset=self.ruleset, number=self.kwargs["number"])

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        context = super().get_context_data(**context)
        words = _("%(name)s, edition %(number)s")
        number = context["edition"].number
        return {
            **context,
            "title": words % {"name": self.ruleset.name, "number": number},
            "is_kept": True,
        }


class EditionsPage(OnRuleset, TablePage):
    table_class = EditionTable
    template_name = "rulesets/editions.html"
    csv_name = "editions"

    def get_table_data(self) -> QuerySet[Edition]:
        return editions_of(self.ruleset)

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        title = _("Editions of %(name)s") % {"name": self.ruleset.name}
        return {**super().get_context_data(**context), "title": title}


class RulesetJson(OnRuleset, View):
    """An edition's document as a file; the current one unless the address names another."""

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if "number" in kwargs:
            edition = get_object_or_404(Edition, ruleset=self.ruleset, number=kwargs["number"])
        else:
            edition = current_edition(self.ruleset)
        answer = HttpResponse(canonical(edition.document), content_type="application/json; charset=utf-8")
        name = slugify(self.ruleset.name) or "ruleset"
        answer["Content-Disposition"] = f'attachment; filename="{name}-{edition.number}.json"'
        return answer
