"""Opening a club, describing it, reading its book of acts."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.contrib.auth.mixins import LoginRequiredMixin
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from league.clubs.filters import LogFilter
from league.clubs.forms import ClubForm, NewClubForm
from league.clubs.models import LogEntry
from league.clubs.permissions import can_run_club
from league.clubs.queries import a_club_may_be_opened_by, entries_of
from league.clubs.scope import InClub
from league.clubs.services.clubs import change_club, open_club
from league.clubs.tables import BookTable
from league.web import ServiceFormView, TablePage

__all__ = ["BookPage", "ClubEdit", "ClubNew", "OrganiserForm"]


class OrganiserForm(InClub, ServiceFormView):
    """A form that organisers of the club fill in."""

    template_name = "form_page.html"
    back_to = ""  # the page to go back to, where it is not the one the form ends on

    def allows(self) -> bool:
        return can_run_club(self.member)

    def get_cancel_url(self) -> str:
        return self.address(self.back_to) if self.back_to else self.get_success_url()

    def address(self, name: str, **kwargs: Any) -> str:
        return reverse(name, kwargs={"club": self.club.slug, **kwargs})


class ClubNew(LoginRequiredMixin, ServiceFormView):
    template_name = "form_page.html"
    form_class = NewClubForm
    title = _("Open a club")
    button = _("Open the club")
    done_message = _("The club is open. Invite its members next.")

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not a_club_may_be_opened_by(request.user):
            return self.response_class(request, ["clubs/club_new_closed.html"], {"title": self.title}, status=403)
        return super().get(request, *args, **kwargs)

    def get_initial(self) -> dict[str, Any]:
        return {"member_name": self.request.user.name}

    def act(self, form: forms.BaseForm) -> Any:
        return open_club(self.request.user, **form.cleaned_data)

    def get_success_url(self) -> str:
        return reverse("members", kwargs={"club": self.result.slug})


class ClubEdit(OrganiserForm):
    form_class = ClubForm
    title = _("Describe the club")
    done_message = _("The club's description is saved.")

    def get_initial(self) -> dict[str, Any]:
        return {field: getattr(self.club, field) for field in ClubForm.base_fields}

    def act(self, form: forms.BaseForm) -> Any:
        return change_club(self.club, **form.cleaned_data, by=self.member)

    def get_success_url(self) -> str:
        return self.address("club")


class BookPage(InClub, TablePage):
    table_class = BookTable
    title = _("Book of acts")
    csv_name = "book"
    extra_context = {"intro": _("Who did what in the club, the latest first. Nothing is ever taken out of it.")}

    def get_table_data(self) -> Iterable[LogEntry]:
        self.filterset = LogFilter(self.request.GET, entries_of(self.club, reader=self.member))
        return self.filterset.qs

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club}
