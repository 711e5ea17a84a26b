"""What the list of rosters can be narrowed by, on pages and in the API alike."""

from __future__ import annotations

from typing import Any

import django_filters
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Member
from league.rosters.models import Roster
from league.rulesets.models import Ruleset

__all__ = ["RosterFilter"]


class RosterFilter(django_filters.FilterSet):
    """Offers the owners and rulesets of the rosters that are there to see, and no others."""

    owner = django_filters.ModelChoiceFilter(label=_("Owner"), queryset=Member.objects.none(), empty_label=_("all"))
    ruleset = django_filters.ModelChoiceFilter(
        label=_("Ruleset"), queryset=Ruleset.objects.none(), empty_label=_("all")
    )
    faction = django_filters.CharFilter(label=_("Faction"), lookup_expr="icontains")
    is_retired = django_filters.BooleanFilter(
        label=_("Retired"), field_name="retired_at", lookup_expr="isnull", exclude=True
    )

    class Meta:
        model = Roster
        fields = ["owner", "ruleset", "faction", "is_retired"]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        seen = self.queryset.order_by().values
        self.filters["owner"].queryset = Member.objects.filter(pk__in=seen("owner")).order_by("name", "pk")
        self.filters["ruleset"].queryset = Ruleset.objects.filter(pk__in=seen("ruleset")).order_by("name", "pk")
