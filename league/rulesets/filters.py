"""What the list of rulesets can be narrowed by, on pages and in the API alike."""

from __future__ import annotations

import django_filters
from django.utils.translation import gettext_lazy as _

from league.rulesets.models import Ruleset

__all__ = ["RulesetFilter"]


class RulesetFilter(django_filters.FilterSet):
    is_retired = django_filters.BooleanFilter(
        label=_("Retired"), field_name="retired_at", lookup_expr="isnull", exclude=True
    )

    class Meta:
        model = Ruleset
        fields = ["is_retired"]
