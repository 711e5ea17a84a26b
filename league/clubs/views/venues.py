"""Halls and the gaming tables in them."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.filters import VenueFilter
from league.clubs.forms import TableForm, VenueEditForm, VenueForm
from league.clubs.models import Table, Venue
from league.clubs.permissions import can_run_club
from league.clubs.queries import tables_of, venues_of
from league.clubs.scope import InClub
from league.clubs.services.venues import add_table, add_venue, change_table, change_venue
from league.clubs.tables import TablesTable, VenueTable
from league.clubs.views.clubs import OrganiserForm
from league.web import TablePage

__all__ = ["TableEdit", "TableNew", "VenueEdit", "VenueNew", "VenuePage", "VenuesPage"]


def venue_or_404(request: HttpRequest, **facts: Any) -> Venue:
    return get_object_or_404(Venue.objects.visible_to(request.user).select_related("club"), **facts)


class VenuesPage(InClub, TablePage):
    table_class = VenueTable
    template_name = "clubs/venues.html"
    title = gettext_lazy("Venues")
    csv_name = "venues"

    def get_table_data(self) -> QuerySet[Venue]:
        self.filterset = VenueFilter(self.request.GET, venues_of(self.club))
        return self.filterset.qs

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {**super().get_context_data(**context), "runs": can_run_club(self.member)}


class VenuePage(InClub, TablePage):
    table_class = TablesTable
    template_name = "clubs/venue.html"
    csv_name = "tables"

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.venue = venue_or_404(request, club=self.club, pk=kwargs["pk"])
        self.title = self.venue.name
        return super().get(request, *args, **kwargs)

    def get_table_data(self) -> QuerySet[Table]:
        return tables_of(self.venue)

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club, "runs": can_run_club(self.member)}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return {**super().get_context_data(**context), "venue": self.venue, "runs": can_run_club(self.member)}


class VenueNew(OrganiserForm):
    back_to = "venues"
    form_class = VenueForm
    title = gettext_lazy("Add a venue")
    done_message = gettext_lazy("The venue is added. Add its tables next.")

    def act(self, form: forms.BaseForm) -> Venue:
        return add_venue(self.club, **form.cleaned_data, by=self.member)

    def get_success_url(self) -> str:
        return self.address("venue", pk=self.result.pk)


class VenueEdit(OrganiserForm):
    form_class = VenueEditForm
    title = gettext_lazy("Change the venue")
    done_message = gettext_lazy("The venue is saved.")

    def allows(self) -> bool:
        self.venue = venue_or_404(self.request, club=self.club, pk=self.kwargs["pk"])
        return super().allows()

    def get_initial(self) -> dict[str, Any]:
        venue = self.venue
        return {
            "name": venue.name,
            "address": venue.address,
            "note": venue.note,
            "is_closed": venue.closed_at is not None,
        }

    def act(self, form: forms.BaseForm) -> Venue:
        return change_venue(self.venue, **form.cleaned_data, by=self.member)

    def get_success_url(self) -> str:
        return self.address("venue", pk=self.venue.pk)


class TableNew(OrganiserForm):
    form_class = TableForm
    title = gettext_lazy("Add a table")
    done_message = gettext_lazy("The table is added.")

    def allows(self) -> bool:
        self.venue = venue_or_404(self.request, club=self.club, pk=self.kwargs["venue"])
        return super().allows()

    def get_initial(self) -> dict[str, Any]:
        last = tables_of(self.venue).last()
        return {"number": last.number + 1 if last else 1}

    def act(self, form: TableForm) -> Table:
        return add_table(self.venue, **form.facts(), by=self.member)

    def get_success_url(self) -> str:
        return self.address("venue", pk=self.venue.pk)


class TableEdit(OrganiserForm):
    form_class = TableForm
    done_message = gettext_lazy("The table is saved.")

    @property
    def title(self) -> str:
        return _("Change table %(number)s") % {"number": self.row.number}

    def allows(self) -> bool:
        self.venue = venue_or_404(self.request, club=self.club, pk=self.kwargs["venue"])
        self.row = get_object_or_404(tables_of(self.venue).select_related("venue__club"), pk=self.kwargs["pk"])
        return super().allows()

    def get_initial(self) -> dict[str, Any]:
        size = f"{self.row.width_mm} x {self.row.depth_mm} mm"
        return {"number": self.row.number, "size": size, "note": self.row.note}

    def act(self, form: TableForm) -> Table:
        return change_table(self.row, **form.facts(), by=self.member)

    def get_success_url(self) -> str:
        return self.address("venue", pk=self.venue.pk)
