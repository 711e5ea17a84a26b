"""What the lists of the club room can be narrowed by, on pages and in the API alike."""

from __future__ import annotations

import django_filters
from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Invitation, LogEntry, Member, Night, Role, Venue
from league.clubs.queries import InvitationState

__all__ = ["InvitationFilter", "LogFilter", "MemberFilter", "NightFilter", "VenueFilter"]

DATE = forms.DateInput({"type": "date"}, format="%Y-%m-%d")


class MemberFilter(django_filters.FilterSet):
    name = django_filters.CharFilter(label=_("Name"), lookup_expr="icontains")
    role = django_filters.ChoiceFilter(label=_("Role"), choices=Role.choices, method="by_role", empty_label=_("all"))

    class Meta:
        model = Member
        fields = ["name"]

    def by_role(self, people: QuerySet[Member], name: str, role: str) -> QuerySet[Member]:  # noqa: ARG002 - its signature
        offices = {Role.ORGANISER: "is_organiser", Role.UMPIRE: "is_umpire", Role.QUARTERMASTER: "is_quartermaster"}
        if role in offices:
            return people.filter(**{offices[Role(role)]: True})
        if role == Role.GUEST:
            return people.filter(user=None)
        return people.filter(user__isnull=False, is_organiser=False, is_umpire=False, is_quartermaster=False)


class InvitationFilter(django_filters.FilterSet):
    state = django_filters.ChoiceFilter(label=_("State"), choices=InvitationState.choices, empty_label=_("all"))

    class Meta:
        model = Invitation
        fields = ["state"]


class VenueFilter(django_filters.FilterSet):
    is_closed = django_filters.BooleanFilter(
        label=_("Closed"), field_name="closed_at", lookup_expr="isnull", exclude=True
    )

    class Meta:
        model = Venue
        fields = ["is_closed"]


class NightFilter(django_filters.FilterSet):
    on_or_after = django_filters.DateFilter(label=_("From"), field_name="on", lookup_expr="gte", widget=DATE)
    on_or_before = django_filters.DateFilter(label=_("Until"), field_name="on", lookup_expr="lte", widget=DATE)
    is_cancelled = django_filters.BooleanFilter(
        label=_("Cancelled"), field_name="cancelled_at", lookup_expr="isnull", exclude=True
    )

    class Meta:
        model = Night
        fields = ["on_or_after", "on_or_before", "is_cancelled"]


class LogFilter(django_filters.FilterSet):
    act = django_filters.CharFilter(label=_("Act"))
    subject = django_filters.CharFilter(label=_("About"), help_text=_('A kind of row and its id, such as "night:12".'))
    by = django_filters.NumberFilter(label=_("By (id of the member)"))

    class Meta:
        model = LogEntry
        fields = ["act", "subject", "by"]
