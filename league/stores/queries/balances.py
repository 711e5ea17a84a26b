"""What is spare of a holding: held, less kept, less lent, less promised; today, or on another day.

On a day that lies ahead, pieces on loan whose day of return comes before it are taken to be back, unless they are
overdue already; and only what is promised for that very day is missing. Without a day the most that is promised for
any one day to come is missing, since what goes to one night is back for the next.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import F, IntegerField, OuterRef, Q, Subquery, Sum, Value
from django.db.models.functions import Coalesce, Greatest

from league.stores.models import Holding, HoldingQuerySet, Movement, Promise

__all__ = ["Balance", "Window", "balance_of", "with_spare"]


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

    `but`: a promise that is not counted as missing.
    """
    returning = (
        Movement.objects.filter(holding=OuterRef("pk"), loan__due_on__gte=window.today, loan__due_on__lt=window.since)
        .values("holding")
        .annotate(pieces=Sum("out_change"))
        .values("pieces")
    )
    days = Q(night__on__gte=window.since) & (Q(night__on__lte=window.until) if window.until else Q())
    promises = Promise.objects.filter(
        days, holding=OuterRef("pk"), withdrawn_at=None, loan=None, night__cancelled_at=None
    )
    if but is not None:
        promises = promises.exclude(pk=but.pk)
    busiest = promises.values("night__on").annotate(pieces=Sum("count")).order_by("-pieces").values("pieces")[:1]
    back: Any = Coalesce(Subquery(returning), 0) if window.since > window.today else Value(0, IntegerField())
    rows: Any = holdings.with_balance().annotate(back=back, promised=Coalesce(Subquery(busiest), 0))
    left = F("held") - F("kept") - F("out") + F("back") - F("promised")
    spare: HoldingQuerySet = rows.annotate(spare=Greatest(left, 0))
    return spare


def balance_of(holding: Holding, window: Window, *, but: Promise | None = None) -> Balance:
    """One holding's balance as the database knows it now: one query. `but`: a promise that does not count."""
    rows: Any = with_spare(Holding.objects.filter(pk=holding.pk), window, but=but)
    return Balance(**rows.values("held", "kept", "out", "back", "promised").get())
