"""How the pages of this room reach their rows."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from django.urls import reverse

from league.battles.views.rows import Act
from league.clubs.models import Night
from league.clubs.scope import InClub
from league.stores import permissions
from league.stores.models import Holding, ItemKind, Loan
from league.stores.queries.holding_words import WITH_WORDS
from league.web import ServiceFormView

__all__ = ["InStores", "KitAct", "KitForm", "OnHolding", "OnKind", "OnLoan", "OnNight"]


class InStores(InClub):
    """A page about the club's kit; `keeps` says whether the reader looks after the club's own."""

    kwargs: dict[str, Any]
    request: HttpRequest

    @cached_property
    def keeps(self) -> bool:
        return permissions.can_keep_stores(self.member, self.club)

    def path_to(self, name: str, **kwargs: Any) -> str:
        return reverse(name, kwargs={"club": self.club.slug, **kwargs})

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(**{"keeps": self.keeps, **context})


class KitForm(InStores, ServiceFormView):
    """A form of this room; it leads back to where it ends, unless `back_to` says otherwise."""

    template_name = "form_page.html"

    def back_to(self) -> str:
        return self.get_success_url()

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(**{"cancel_url": self.back_to(), **context})


class KitAct(InStores, Act):
    """A button of this room; it leads back to the page of its row."""

    def address(self) -> str:
        return self.get_success_url()


class OnHolding(InStores):
    """A page about the holding at `pk`; what its owner keeps to themselves is not there for others."""

    @cached_property
    def holding(self) -> Holding:
        rows = Holding.objects.visible_to(self.request.user).filter(club=self.club).select_related("club", *WITH_WORDS)
        return get_object_or_404(rows, pk=self.kwargs["pk"])

    def get_success_url(self) -> str:
        return self.path_to("holding", pk=self.holding.pk)


class OnKind(InStores):
    @cached_property
    def kind(self) -> ItemKind:
        rows = ItemKind.objects.visible_to(self.request.user).filter(club=self.club).select_related("club")
        return get_object_or_404(rows, pk=self.kwargs["pk"])

    def get_success_url(self) -> str:
        return self.path_to("kind", pk=self.kind.pk)


class OnLoan(InStores):
    @cached_property
    def loan(self) -> Loan:
        rows = Loan.objects.visible_to(self.request.user).with_state().filter(holding__club=self.club)
        words = [f"holding__{each}" for each in ("club", *WITH_WORDS)]
        return get_object_or_404(rows.select_related("borrower", "asked_by", *words), pk=self.kwargs["pk"])

    def get_success_url(self) -> str:
        return self.path_to("loan", pk=self.loan.pk)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(**{"loan": self.loan, **context})


class OnNight(InStores):
    """A page about the kit of the night at `night`."""

    @cached_property
    def night(self) -> Night:
        rows = Night.objects.visible_to(self.request.user).filter(club=self.club).select_related("club", "venue")
        return get_object_or_404(rows, pk=self.kwargs["night"])

    def get_success_url(self) -> str:
        return self.path_to("night-kit", night=self.night.pk)

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        # After super(): the address's own `night`, a bare number, is among what it returns.
        return {**super().get_context_data(**context), "night": self.night}
