"""What the lists of the kit can be narrowed by over the API."""

from __future__ import annotations

from typing import Any

import django_filters
from django.db.models import Q, QuerySet
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Member
from league.stores.models import Category, Holding, ItemKind, Loan, LoanState

__all__ = ["HoldingFilter", "KindFilter", "LoanFilter"]


class KindFilter(django_filters.FilterSet):
    category = django_filters.ChoiceFilter(label=_("Category"), choices=Category.choices)
    is_retired = django_filters.BooleanFilter(
        label=_("Off the list"), field_name="retired_at", lookup_expr="isnull", exclude=True
    )

    class Meta:
        model = ItemKind
        fields = ["category", "is_retired"]


class HoldingFilter(django_filters.FilterSet):
    """Offers the owners and kinds of what is there to see, and no others."""

    owner = django_filters.ModelChoiceFilter(label=_("Owner"), queryset=Member.objects.none())
    is_clubs = django_filters.BooleanFilter(label=_("The club's own"), field_name="owner", lookup_expr="isnull")
    kind = django_filters.ModelChoiceFilter(label=_("Kind"), queryset=ItemKind.objects.none())
    label = django_filters.CharFilter(label=_("Label of the shelf"))
    is_retired = django_filters.BooleanFilter(
        label=_("Put away"), field_name="retired_at", lookup_expr="isnull", exclude=True
    )

    class Meta:
        model = Holding
        fields = ["owner", "is_clubs", "kind", "label", "is_retired"]

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        seen = self.queryset.order_by().values
        self.filters["owner"].queryset = Member.objects.filter(pk__in=seen("owner")).order_by("name", "pk")
        self.filters["kind"].queryset = ItemKind.objects.filter(pk__in=seen("kind")).order_by("name", "pk")


class LoanFilter(django_filters.FilterSet):
    state = django_filters.ChoiceFilter(label=_("State"), choices=LoanState.choices)
    member = django_filters.NumberFilter(label=_("Of whom, or to whom"), method="of_member")

    class Meta:
        model = Loan
        fields = ["state", "member"]

    def of_member(self, rows: QuerySet[Loan], _name: str, value: Any) -> QuerySet[Loan]:
        return rows.filter(Q(borrower=int(value)) | Q(holding__owner=int(value)))
