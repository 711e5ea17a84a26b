"""The dice page: type in what fell on the table, or have the site draw and check it afterwards."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from league.battles.forms.small import DiceForm
from league.battles.queries.report_page import ReportPage, report_page
from league.battles.queries.report_rights import rights_on
from league.battles.services.dice import draw_rolls, enter_dice
from league.battles.views.rows import Act, OnReport, placed
from league.web import ServiceFormView

__all__ = ["DiceDraw", "DicePage"]


class DicePage(OnReport, ServiceFormView):
    """Every member of the club may look and check; who may file may enter."""

    template_name = "battles/dice.html"
    form_class = DiceForm
    title = _("The dice of the fallen")
    button = _("Enter these dice")
    done_message = _("The dice are entered.")

    @cached_property
    def page(self) -> ReportPage:
        return report_page(self.report)

    def get_form_kwargs(self) -> dict[str, Any]:
        return {**super().get_form_kwargs(), "wanted": self.page.waiting}

    def post(self, request: Any, *args: Any, **kwargs: Any) -> Any:
        if not rights_on(self.report, self.member).can_handle_dice:
            raise PermissionDenied
        return super().post(request, *args, **kwargs)

    def act(self, form: DiceForm) -> Any:
        return placed(lambda: enter_dice(self.report, results=form.results(), by=self.member), str)

    def get_success_url(self) -> str:
        return self.address()

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        context = super().get_context_data(page=self.page, rights=rights_on(self.report, self.member), **context)
        form = context["form"]
        context["lines"] = [
            (side.named, line, form[f"casualty.{line.casualty_id}"])
            for side in self.page.sides
            for line in side.fallen
            if line in self.page.waiting
        ]
        return context


class DiceDraw(OnReport, Act):
    done_message = _("The dice are drawn. Anybody can check them with the seed below.")

    def act(self) -> Any:
        return draw_rolls(self.report, by=self.member)

    def address(self) -> str:
        return reverse("rolls", kwargs={"club": self.club.slug, "pk": self.report.pk})
