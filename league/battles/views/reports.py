"""Logging a game in half a minute, reporting it in full, reading, answering, settling and correcting."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.generic import TemplateView

from league.battles import permissions
from league.battles.forms.quick import QuickLogForm
from league.battles.forms.report import CorrectionForm, ReportForm
from league.battles.forms.small import DisputeForm, SettleForm
from league.battles.models import Answer, Report, Ruling
from league.battles.queries import next_game
from league.battles.queries.quick import night_on, people_for, scenario_choices, usual_choice
from league.battles.queries.report_page import report_page
from league.battles.queries.report_rights import rights_on
from league.battles.queries.reports import is_only_umpire
from league.battles.queries.sheets import Sheet, sheet_of, written_in
from league.battles.queries.versions import acts_of, versions_with_changes
from league.battles.services.reports import (
    confirm_report,
    correct_report,
    dispute_report,
    file_report,
    log_game,
    settle_report,
)
from league.battles.views.rows import Act, OnGame, OnReport, placed
from league.clubs.models import Night
from league.clubs.scope import InClub
from league.web import ServiceFormView

__all__ = ["QuickLog", "ReportConfirm", "ReportCorrect", "ReportDispute", "ReportNew", "ReportPage", "ReportSettle"]


class QuickLog(InClub, ServiceFormView):
    template_name = "battles/log.html"
    form_class = QuickLogForm
    title = gettext_lazy("Log a game")
    button = gettext_lazy("Save the result")
    done_message = gettext_lazy("The result is saved.")

    @cached_property
    def night(self) -> Night | None:
        return night_on(self.club, timezone.localdate())

    def get_form_kwargs(self) -> dict[str, Any]:
        scenarios = scenario_choices(self.club, sides=2)
        return {
            **super().get_form_kwargs(),
            "people": people_for(self.member, self.night),
            "scenarios": scenarios,
            "usual": usual_choice(self.member, scenarios),
            "today": timezone.localdate(),
        }

    def act(self, form: QuickLogForm) -> Report:
        return placed(
            lambda: log_game(
                self.club,
                plan=form.plan(self.member, self.night),
                claim=form.claim(),
                submission=form.cleaned_data["submission"],
                by=self.member,
            ),
            form.place_of,
        )

    def get_success_url(self) -> str:
        return reverse("report", kwargs={"club": self.club.slug, "pk": self.result.pk})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        today = timezone.localdate()
        coming = next_game(self.member, today)
        return super().get_context_data(planned=coming if coming and coming.on == today else None, **context)


class OnSheet(ServiceFormView):
    """The full form; its sheet tells which sides and units there are."""

    template_name = "battles/report_form.html"

    @cached_property
    def sheet(self) -> Sheet:
        return sheet_of(self.game)

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "sheet": self.sheet, "today": timezone.localdate()}

    def get_success_url(self) -> str:
        return reverse("report", kwargs={"club": self.club.slug, "pk": self.result.pk})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(
            sheet=self.sheet, lacks_roster=any(not side.roster for side in self.sheet.sides), **context
        )


class ReportNew(OnGame, OnSheet):
    form_class = ReportForm
    title = gettext_lazy("Battle report")
    button = gettext_lazy("File the report")
    done_message = gettext_lazy("The report is filed.")

    def allows(self) -> bool:
        return permissions.can_file(self.member, self.game)

    def act(self, form: ReportForm) -> Report:
        claim = form.claim()
        submission = form.cleaned_data["submission"]
        return placed(lambda: file_report(self.game, claim=claim, submission=submission, by=self.member), form.place_of)


class ReportCorrect(OnReport, OnSheet):
    form_class = CorrectionForm
    title = gettext_lazy("Correct the report")
    button = gettext_lazy("File the correction")
    done_message = gettext_lazy("The correction is filed. The earlier report stays readable.")

    def allows(self) -> bool:
        return permissions.can_correct(self.member, self.game, self.report, self.report.state)

    def get_form_kwargs(self) -> dict[str, Any]:
        reason = _("details added") if "details" in self.request.GET else ""
        return {
            **super().get_form_kwargs(),
            "report": self.report,
            "written": written_in(self.report),
            "reason": reason,
        }

    def act(self, form: CorrectionForm) -> Report:
        claim, data = form.claim(), form.cleaned_data
        return placed(
            lambda: correct_report(
                self.report, claim=claim, reason=data["reason"], submission=data["submission"], by=self.member
            ),
            form.place_of,
        )


class ReportPage(OnReport, TemplateView):
    template_name = "battles/report.html"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        page = report_page(self.report)
        return super().get_context_data(
            title=page.title,
            page=page,
            rights=rights_on(self.report, self.member),
            versions=versions_with_changes(self.game),
            acts=acts_of(self.game),
            **context,
        )


class ReportConfirm(OnReport, Act):
    done_message = gettext_lazy("You confirmed the report.")

    def act(self) -> Answer:
        return confirm_report(self.report, by=self.member)


class ReportDispute(OnReport, ServiceFormView):
    template_name = "form_page.html"
    form_class = DisputeForm
    title = gettext_lazy("Dispute the report")
    button = gettext_lazy("Send to the umpire")
    done_message = gettext_lazy("The report is disputed. An umpire will settle it.")

    def allows(self) -> bool:
        return permissions.can_answer(self.member, self.game, self.report)

    def act(self, form: DisputeForm) -> Answer:
        return dispute_report(self.report, text=form.cleaned_data["text"], by=self.member)

    def get_success_url(self) -> str:
        return self.address()

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(
            intro=_("The rosters stay as reported until the umpire has settled it."), **context
        )

    def get_cancel_url(self) -> str:
        return self.address()


class ReportSettle(OnReport, ServiceFormView):
    template_name = "form_page.html"
    form_class = SettleForm
    title = gettext_lazy("Settle the report")
    button = gettext_lazy("Give the ruling")
    done_message = gettext_lazy("Your ruling is given.")

    def allows(self) -> bool:
        only = is_only_umpire(self.member) if self.member else False
        return permissions.can_settle(self.member, self.game, is_only_umpire=only)

    def act(self, form: SettleForm) -> Ruling:
        return settle_report(
            self.report, verdict=form.cleaned_data["verdict"], text=form.cleaned_data["text"], by=self.member
        )

    def get_success_url(self) -> str:
        return self.address()

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(
            intro=_("A report that is struck out counts nowhere, and its casualties never happened."), **context
        )

    def get_cancel_url(self) -> str:
        return self.address()
