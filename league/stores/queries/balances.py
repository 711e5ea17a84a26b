"""What is spare of a holding: held, less kept, less lent, less promised; today, or on another day.

On a day that lies ahead, pieces on loan whose day of return comes before it are taken to be back, unless they are
overdue already; and only what is promised for that very day is missing. Without a day the most that is promised for
any one day to come is missing, since what goes to one night is back for the next.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import F, IntegerField, OuterRef, Q, QuerySet, Subquery, Sum, Value
from django.db.models.functions import Coalesce, Greatest

from league.clubs.models import Club
from league.stores.models import Holding, HoldingQuerySet, Movement, Promise

__all__ = ["Balance", "Window", "balance_of", "balances_of", "with_spare"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Window:
    """The days for which pieces are wanted, both included; `until` None: for good. `today` decides what is overdue."""

    today: date
    since: date
    until: date | None

    @classmethod
    def of_day(cls, day: date | None, *, today: date) -> Window:
        """One day to come, or, without a day, from today on."""
        return cls(today=today, since=max(day, today) if day else today, until=day)


@dataclass(frozen=True, kw_only=True, slots=True)
class Balance:
    """A holding's pieces. `out` are those set aside for loans or lent; `back` those of them that will be back."""

    held: int
    kept: int
    out: int
    back: int
    promised: int

    @property
    def spare(self) -> int:
        return max(0, self.held - self.kept - self.out + self.back - self.promised)


def with_spare(holdings: HoldingQuerySet, window: Window, *, but: Promise | None = None) -> HoldingQuerySet:
    """Annotate `held`, `out`, `back`, `promised` and `spare`, in the one query that reads the holdings.

    `but`: a promise that is not counted as missing. For many holdings at once `balances_of` is quicker.
    """
    promises = promises_in(window).filter(holding=OuterRef("pk"))
    if but is not None:
        promises = promises.exclude(pk=but.pk)
    busiest = promises.values("night__on").annotate(pieces=Sum("count")).order_by("-pieces").values("pieces")[:1]
    rows: Any = with_back(holdings, window).annotate(promised=Coalesce(Subquery(busiest), 0))
    left = F("held") - F("kept") - F("out") + F("back") - F("promised")
    spare: HoldingQuerySet = rows.annotate(spare=Greatest(left, 0))
    return spare


def balance_of(holding: Holding, window: Window, *, but: Promise | None = None) -> Balance:
    """One holding's balance as the database knows it now: one query. `but`: a promise that does not count."""
    rows: Any = with_spare(Holding.objects.filter(pk=holding.pk), window, but=but)
    return Balance(**rows.values("held", "kept", "out", "back", "promised").get())


def balances_of(holdings: HoldingQuerySet, club: Club, window: Window) -> dict[int, Balance]:
    """The balances of holdings of one club by their id, in the order of the rows: two queries."""
    busiest: Counter[int] = Counter()
    by_day = promises_in(window).filter(night__club=club).values_list("holding", "night__on").annotate(Sum("count"))
    for pk, _day, pieces in by_day.order_by():
        busiest[pk] = max(busiest[pk], pieces)
    rows: Any = with_back(holdings, window).values_list("pk", "held", "kept", "out", "back")
    return {
        pk: Balance(held=held, kept=kept, out=out, back=back, promised=busiest[pk])
        for pk, held, kept, out, back in rows
    }


def promises_in(window: Window) -> QuerySet[Promise]:
    """Standing promises, of what is not borrowed, for the nights of those days."""
    days = Q(night__on__gte=window.since) & (Q(night__on__lte=window.until) if window.until else Q())
    return Promise.objects.filter(days, withdrawn_at=None, loan=None, night__cancelled_at=None)


def with_back(holdings: HoldingQuerySet, window: Window) -> HoldingQuerySet:
    """Annotate `held`, `out`, and `back`: pieces whose day of return comes before the window, unless it is past."""
    back: Any = Value(0, IntegerField())
    if window.since > window.today:
        due = Q(loan__due_on__gte=window.today, loan__due_on__lt=window.since)
        lines = Movement.objects.filter(due, holding=OuterRef("pk")).values("holding")
        back = Coalesce(Subquery(lines.annotate(pieces=Sum("out_change")).values("pieces")), 0)
    rows: HoldingQuerySet = holdings.with_balance().annotate(back=back)
    return rows
