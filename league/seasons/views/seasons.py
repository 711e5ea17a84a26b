"""The list of seasons, one season, making one, its rules, its end, its points by hand."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django import forms
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.views.generic import TemplateView
from django_tables2 import RequestConfig

from league.clubs.queries import log_of
from league.clubs.scope import InClub
from league.engines.documents.season import write_rules
from league.engines.documents.season_draft import ROBINS
from league.engines.documents.season_rules import counts_of, rules_for
from league.rulesets.models import Ruleset
from league.rulesets.queries import current_edition, rules_of, rulesets_of
from league.seasons import permissions
from league.seasons.forms.rules import ChangeRulesForm, SeasonForm
from league.seasons.forms.small import AdjustForm, RulesetForm
from league.seasons.models import Adjustment, Season
from league.seasons.queries import rules_of_season
from league.seasons.queries.pages import adjustments_of, entrants_of, rounds_of, seasons_of
from league.seasons.queries.words import rules_in_words
from league.seasons.services.adjustments import adjust
from league.seasons.services.seasons import change_rules, close_season, create_season
from league.seasons.tables.seasons import AdjustmentTable, EntrantTable, RoundTable, SeasonTable
from league.seasons.views.rows import OnSeason, PlacedForm, RunsSeason
from league.web import Table, TablePage

__all__ = ["Adjust", "RulesEdit", "SeasonClose", "SeasonNew", "SeasonPage", "SeasonsPage"]


class SeasonsPage(InClub, TablePage):
    is_open = True
    table_class = SeasonTable
    template_name = "seasons/seasons.html"
    csv_name = "seasons"
    title = _("League")

    def get_table_data(self) -> QuerySet[Season, Season]:
        return seasons_of(self.club)

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club.slug}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(can_start=permissions.can_start_season(self.member), **context)


class SeasonPage(OnSeason, TemplateView):
    template_name = "seasons/season.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        season = self.season
        return super().get_context_data(
            title=season.name,
            entrants=self.table(EntrantTable, entrants_of(season), "entrants", names=self.names),
            rounds=self.table(RoundTable, rounds_of(season), "rounds"),
            adjustments=self.table(AdjustmentTable, adjustments_of(season), "adjustments", names=self.names),
            rules=rules_in_words(rules_of_season(season), season.counts),
            has_divisions=season.divisions.exists(),
            may_arrange=season.format in permissions.ARRANGED
            and season.closed_at is None
            and permissions.can_arrange(self.member, season),
            draws_up=self.runs and season.format in ROBINS,
            may_download=permissions.can_download(self.member, season),
            lines=log_of(self.club, season, limit=20) if self.member else [],
            **context,
        )

    def table(self, kind: type[Table], rows: Any, prefix: str, **options: Any) -> Table:
        if kind is not RoundTable:
            options["member"] = self.member is not None
        table = kind(rows, club=self.club.slug, runs=self.runs, prefix=f"{prefix}-", request=self.request, **options)
        RequestConfig(self.request, paginate={"per_page": 50, "silent": True}).configure(table)
        return table


class SeasonNew(InClub, PlacedForm):
    """First which ruleset, then everything else, with what the ruleset says about scoring filled in."""

    template_name = "seasons/rules_form.html"
    form_class = SeasonForm
    title = _("New season")
    button = _("Make the season")
    done_message = _("The season is made. Say next how its rounds come about, then enter its players.")

    def allows(self) -> bool:
        return permissions.can_start_season(self.member)

    @cached_property
    def rulesets(self) -> QuerySet[Ruleset, Ruleset]:
        return rulesets_of(self.club, with_retired=False)

    @cached_property
    def ruleset(self) -> Ruleset | None:
        """The one asked for, or the only one there is."""
        asked = self.request.GET.get("ruleset", "")
        if asked.isascii() and asked.isdigit():
            return get_object_or_404(self.rulesets, pk=int(asked))
        rows = list(self.rulesets[:2])
        return rows[0] if len(rows) == 1 else None

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        return super().get(request, *args, **kwargs) if self.ruleset else self.ask_ruleset()

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        return super().post(request, *args, **kwargs) if self.ruleset else self.ask_ruleset()

    def ask_ruleset(self) -> HttpResponse:
        context = {"club": self.club, "me": self.member, "title": self.title}
        form = RulesetForm(rulesets=self.rulesets)
        return render(self.request, "seasons/choose_ruleset.html", {**context, "form": form})

    def get_form_kwargs(self) -> dict[str, Any]:
        engine = rules_of(current_edition(self.ruleset))
        rules = write_rules(rules_for(engine, ""), "filed")
        return {**super().get_form_kwargs(), "rules": rules, "count_names": counts_of(engine)}

    def get_initial(self) -> dict[str, Any]:
        return {"starts_on": timezone.localdate()}

    def serve(self, form: SeasonForm) -> Season:
        data = form.cleaned_data
        return create_season(
            self.club,
            ruleset=self.ruleset,
            name=data["name"],
            starts_on=data["starts_on"],
            ends_on=data["ends_on"],
            rules=form.rules(),
            submission=data["submission"],
            by=self.member,
        )

    def get_success_url(self) -> str:
        return reverse("season-format-edit", kwargs={"club": self.club.slug, "pk": self.result.pk})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(ruleset=self.ruleset, **context)

    def get_cancel_url(self) -> str:
        return reverse("seasons", kwargs={"club": self.club.slug})


class RulesEdit(RunsSeason):
    template_name = "seasons/rules_form.html"
    form_class = ChangeRulesForm
    title = _("Change the rules of the season")
    button = _("Change the rules")
    done_message = _("The rules are changed. The table follows them at once.")

    def get_form_kwargs(self) -> dict[str, Any]:
        engine = rules_of(current_edition(self.season.ruleset))
        rules = {**self.season.rules, "counts": self.season.counts}
        return {**super().get_form_kwargs(), "rules": rules, "count_names": counts_of(engine)}

    def serve(self, form: ChangeRulesForm) -> Season:
        return change_rules(self.season, rules=form.rules(), reason=form.cleaned_data["reason"], by=self.member)


class SeasonClose(RunsSeason):
    template_name = "confirm.html"
    form_class = forms.Form
    title = _("Close the season")
    button = _("Close the season")
    extra_context = {
        "question": _(
            "Nobody can be entered or paired afterwards. Reports can still be corrected, and the table follows."
        )
    }

    def serve(self, form: forms.Form) -> Season:
        return close_season(self.season, by=self.member)


class Adjust(RunsSeason):
    form_class = AdjustForm
    title = _("Give or take points")
    button = _("Save")
    extra_context = {"intro": _("It cannot be changed afterwards; a second adjustment can undo it.")}

    def get_form_kwargs(self) -> dict[str, Any]:
        season = self.season
        return {
            **super().get_form_kwargs(),
            "entrants": season.entrants.order_by("name", "pk"),
            "rounds": season.rounds.order_by("number"),
        }

    def serve(self, form: AdjustForm) -> Adjustment:
        return adjust(self.season, **form.cleaned_data, by=self.member)
