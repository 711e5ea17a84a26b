"""Who has spare …? The stores' front page is one search box."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from league.clubs.queries import next_night
from league.stores.forms.spares import SparesForm
from league.stores.models import Holding
from league.stores.queries.loans_page import loans_waiting_for
from league.stores.queries.spares import SpareAsk, Spares, find_spares
from league.stores.tables.holdings import SparesTable
from league.stores.views.rows import InStores
from league.web import TablePage

__all__ = ["SparesPage"]


class SparesPage(InStores, TablePage):
    """What is free of what was asked for; before anything is asked, the ways into the stores."""

    table_class = SparesTable
    template_name = "stores/kit.html"
    title = _("Who has spare …?")
    csv_name = "spares"

    @cached_property
    def form(self) -> SparesForm:
        return SparesForm(self.request.GET if "q" in self.request.GET else None)

    @cached_property
    def spares(self) -> Spares | None:
        """What was found; None before anything is asked, or where the day cannot be read."""
        if not self.form.is_bound or not self.form.is_valid():
            return None
        said = self.form.cleaned_data
        ask = SpareAsk(text=said["q"], on=said["on"])
        return find_spares(self.request.user, self.club, ask, today=timezone.localdate())

    def get_table(self) -> Any:
        return super().get_table() if self.spares is not None else None

    def get_table_data(self) -> QuerySet[Holding]:
        return self.spares.holdings

    def get_table_options(self) -> dict[str, Any]:
        return {"club": self.club, "member": self.member, "on": self.spares.on}

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        context = super().get_context_data(**context)
        if self.form.is_bound:
            return {**context, "form": self.form, "spares": self.spares}
        today = timezone.localdate()
        waiting = loans_waiting_for(self.member, today=today)
        return {**context, "form": self.form, "waiting": waiting, "night": next_night(self.club, today)}
