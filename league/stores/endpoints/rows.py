"""How the endpoints of this room reach their rows, and what a write answers."""

from __future__ import annotations

from functools import cached_property
from typing import Any, cast
from uuid import UUID

from django.db.models import Prefetch, QuerySet
from django.shortcuts import get_object_or_404
from django.utils import timezone
from rest_framework import status

from league.battles.queries.reports import was_sent
from league.clubs.endpoints.rows import ClubRows
from league.clubs.models import Night, Submitted
from league.clubs.scope import InClubApi
from league.stores.models import Holding, ItemKind, Loan, PackOffer
from league.stores.queries.balances import Window, with_spare
from league.stores.queries.holding_words import WITH_WORDS, with_words

__all__ = ["HoldingRows", "KindRows", "LoanRows", "OnNightApi", "code_for", "kind_rows"]


def code_for(model: type[Submitted], submission: UUID) -> int:
    """What a write is to answer: 201 for something new, 200 for what was sent before. Asked before it is written."""
    return status.HTTP_200_OK if was_sent(model, submission) else status.HTTP_201_CREATED


def kind_rows(kinds: QuerySet[ItemKind]) -> QuerySet[ItemKind]:
    """The kinds with the packs they are sold in: one query more."""
    standing = PackOffer.objects.filter(withdrawn_at=None).order_by("pieces", "pk")
    return kinds.select_related("club").prefetch_related(Prefetch("offers", standing, to_attr="standing_offers"))


class KindRows(ClubRows):
    def rows(self) -> QuerySet[ItemKind]:
        seen = ItemKind.objects.visible_to(self.request.user).filter(club=self.club)
        return kind_rows(seen).order_by("category", "name", "pk")


class HoldingRows(ClubRows):
    """Holdings one may see, with their balances of today."""

    def rows(self) -> QuerySet[Holding]:
        seen = Holding.objects.visible_to(self.request.user).filter(club=self.club)
        with_balances = with_spare(with_words(seen), Window.of_day(None, today=timezone.localdate()))
        return cast("QuerySet[Holding]", with_balances.select_related("club", *WITH_WORDS).order_by("pk"))


class LoanRows(ClubRows):
    """Loans of kit one may see, and one's own, with where they stand."""

    def rows(self) -> QuerySet[Loan]:
        seen = Loan.objects.visible_to(self.request.user).with_state().filter(holding__club=self.club)
        words = [f"holding__{each}" for each in ("club", *WITH_WORDS)]
        return cast("QuerySet[Loan]", seen.select_related("borrower", "asked_by", *words).order_by("-pk"))


class OnNightApi(InClubApi):
    """Under a night of the club, at `night` in the address."""

    kwargs: dict[str, Any]
    request: Any

    @cached_property
    def night(self) -> Night:
        rows = Night.objects.visible_to(self.request.user).filter(club=self.club)
        found: Night = get_object_or_404(rows.select_related("club", "venue"), pk=self.kwargs["night"])
        return found
