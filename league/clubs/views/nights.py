"""When the club meets, and who is coming."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from league.clubs.forms import AnswerForm, NightForm
from league.clubs.models import Attendance, Night
from league.clubs.permissions import can_run_club
from league.clubs.queries import AttendanceLine, attendance_of, past_nights, upcoming
from league.clubs.scope import InClub
from league.clubs.services.nights import answer_night, cancel_night, change_night, plan_night
from league.clubs.tables import AttendanceTable, NightTable
from league.clubs.views.clubs import OrganiserForm
from league.web import TablePage

__all__ = ["NightAnswer", "NightCancel", "NightEdit", "NightNew", "NightPage", "NightsPage"]


def night_or_404(request: HttpRequest, **facts: Any) -> Night:
    return get_object_or_404(Night.objects.visible_to(request.user).select_related("club", "venue"), **facts)


class NightsPage(InClub, TablePage):
    """Nights to come; those gone by with `?when=past`."""

    table_class = NightTable
    template_name = "clubs/nights.html"
    title = _("Nights")
    csv_name = "nights"

    def get_table_data(self) -> QuerySet[Night]:
        today = timezone.localdate()
        return past_nights(self.club, today) if self.is_past else upcoming(self.club, today)

    @property
    def is_past(self) -> bool:
        return self.request.GET.get("when") == "past"

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        runs = can_run_club(self.member)
        return {**super().get_context_data(**context), "is_past": self.is_past, "runs": runs}


class NightPage(InClub, TablePage):
    table_class = AttendanceTable
    template_name = "clubs/night.html"
    csv_name = "night"

    def get(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        self.night = night_or_404(request, club=self.club, pk=kwargs["pk"])
        self.title = self.night.title or _("Club night")
        return super().get(request, *args, **kwargs)

    def get_table_data(self) -> list[AttendanceLine]:
        self.lines = attendance_of(self.night)
        return self.lines

    def get_table_options(self) -> dict[str, Any]:
        return {
            "club": self.club,
            "night": self.night,
            "runs": can_run_club(self.member)
            and self.night.cancelled_at is None
            and self.night.on >= timezone.localdate(),
        }

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        context = super().get_context_data(**context)
        mine = next((line.answer for line in self.lines if line.member.pk == self.member.pk), "")
        coming = sum(line.answer == Attendance.Answer.COMING for line in self.lines)
        return {
            **context,
            "night": self.night,
            "mine": mine,
            "coming": coming,
            "answers": Attendance.Answer.choices,
            "runs": can_run_club(self.member),
        }


class NightForms(OrganiserForm):
    """Forms about a night: they choose among the club's venues and end on the night's page."""

    form_class = NightForm

    def get_form_kwargs(self) -> dict[str, Any]:
        return {"club": self.club, **super().get_form_kwargs()}

    def get_success_url(self) -> str:
        return self.address("night", pk=self.result.pk)


class NightNew(NightForms):
    back_to = "nights"
    title = _("Plan a night")
    button = _("Plan the night")
    done_message = _("The night is planned.")

    def act(self, form: forms.BaseForm) -> Night:
        return plan_night(self.club, **form.cleaned_data, by=self.member)


class OneNight(NightForms):
    def allows(self) -> bool:
        self.night = night_or_404(self.request, club=self.club, pk=self.kwargs["pk"])
        return super().allows()

    def get_success_url(self) -> str:
        return self.address("night", pk=self.night.pk)


class NightEdit(OneNight):
    title = _("Change the night")
    done_message = _("The night is saved.")

    def get_form_kwargs(self) -> dict[str, Any]:
        # The night's own venue stays to choose although it closed since.
        return {"kept": self.night.venue, **super().get_form_kwargs()}

    def get_initial(self) -> dict[str, Any]:
        return {field: getattr(self.night, field) for field in NightForm.base_fields}

    def act(self, form: forms.BaseForm) -> Night:
        return change_night(self.night, **form.cleaned_data, by=self.member)


class NightCancel(OneNight):
    form_class = forms.Form
    template_name = "confirm.html"
    title = _("Cancel this night?")
    button = _("Cancel the night")
    done_message = _("The night is cancelled.")
    extra_context = {"intro": _("It stays in the list and says that it is cancelled. Tell those who meant to come.")}

    def get_form_kwargs(self) -> dict[str, Any]:
        kwargs = super().get_form_kwargs()
        del kwargs["club"]
        return kwargs

    def act(self, form: forms.BaseForm) -> Night:
        return cancel_night(self.night, by=self.member)


class NightAnswer(OneNight):
    """Say whether I come; an organiser says it for others."""

    form_class = AnswerForm
    title = _("Are you coming?")
    button = _("Say so")
    done_message = _("Your answer is saved.")

    def allows(self) -> bool:
        super().allows()
        return self.member is not None

    def act(self, form: forms.BaseForm) -> Attendance:
        who = form.cleaned_data["member"] or self.member
        return answer_night(self.night, member=who, answer=form.cleaned_data["answer"], by=self.member)
