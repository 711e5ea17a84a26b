"""What lists of games and reports can be narrowed to."""

from __future__ import annotations

from typing import Any

import django_filters
from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from league.battles.models import Game, GameState, Report, ReportState
from league.clubs.models import Night
from league.rulesets.models import Ruleset

__all__ = ["GameFilter", "ReportFilter"]


def nights_of_request(request: Any) -> QuerySet[Night]:
    if request is None:  # the description of the API is drawn without a request
        return Night.objects.none()
    return Night.objects.visible_to(request.user).filter(club__slug=slug_of(request)).order_by("-on", "-pk")


def rulesets_of_request(request: Any) -> QuerySet[Ruleset]:
    if request is None:
        return Ruleset.objects.none()
    return Ruleset.objects.visible_to(request.user).filter(club__slug=slug_of(request)).order_by("name")


def slug_of(request: Any) -> str:
    return str(request.resolver_match.kwargs["club"])


class GameFilter(django_filters.FilterSet):
    mine = django_filters.BooleanFilter(method="only_mine", label=_("Only mine"), widget=forms.CheckboxInput)
    night = django_filters.ModelChoiceFilter(queryset=nights_of_request, label=_("Night"), empty_label=_("Any night"))
    ruleset = django_filters.ModelChoiceFilter(
        field_name="edition__ruleset",
        queryset=rulesets_of_request,
        label=_("Ruleset"),
        empty_label=_("Any ruleset"),
    )
    state = django_filters.ChoiceFilter(choices=GameState.choices, label=_("State"), empty_label=_("Any state"))

    class Meta:
        model = Game
        fields: list[str] = []

    def only_mine(self, games: QuerySet[Game], _name: str, value: bool | None) -> QuerySet[Game]:  # noqa: FBT001
        return games.filter(players__member__user=self.request.user) if value else games


class ReportFilter(django_filters.FilterSet):
    game = django_filters.NumberFilter(field_name="game_id", label=_("Game"))
    state = django_filters.ChoiceFilter(choices=ReportState.choices, label=_("State"))
    mine = django_filters.BooleanFilter(method="only_mine", label=_("Only of my games"))
    fought_from = django_filters.DateFilter(field_name="fought_on", lookup_expr="gte", label=_("Fought on or after"))
    fought_until = django_filters.DateFilter(field_name="fought_on", lookup_expr="lte", label=_("Fought on or before"))

    class Meta:
        model = Report
        fields: list[str] = []

    def only_mine(self, reports: QuerySet[Report], _name: str, value: bool | None) -> QuerySet[Report]:  # noqa: FBT001
        return reports.filter(game__players__member__user=self.request.user) if value else reports
