from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from league.stores.models import Loan, Movement, Promise

__all__ = ["loans", "movements", "promises"]


def movements() -> Iterator[str]:
    """Every balance a line carries is the sum of the lines up to it, and the lines are in order without a gap."""
    held: defaultdict[int, int] = defaultdict(int)
    out: defaultdict[int, int] = defaultdict(int)
    last: defaultdict[int, int] = defaultdict(int)
    for row in Movement.objects.order_by("holding_id", "sequence").iterator():
        key = row.holding_id
        held[key] += row.change
        out[key] += row.out_change
        if row.sequence != last[key] + 1:
            yield f"holding {key}: line {row.sequence} follows line {last[key]}"
        last[key] = row.sequence
        if (row.held_after, row.out_after) != (held[key], out[key]):
            told = f"{row.held_after} held and {row.out_after} out"
            yield f"holding {key}, line {row.sequence} says {told}, the lines come to {held[key]} and {out[key]}"


def loans() -> Iterator[str]:
    """What is out of a loan is what its lines come to, never more than was lent."""
    out: defaultdict[int, int] = defaultdict(int)
    for row in Movement.objects.filter(loan__isnull=False).order_by("holding_id", "sequence").iterator():
        if row.loan_id is None:
            continue
        out[row.loan_id] += row.out_change
        if row.loan_out_after != out[row.loan_id]:
            yield f"loan {row.loan_id}: line {row.sequence} says {row.loan_out_after} out, not {out[row.loan_id]}"
    for loan in Loan.objects.filter(pk__in=out).iterator():
        if out[loan.pk] > loan.count:
            yield f"loan {loan.pk} is of {loan.count} pieces, and {out[loan.pk]} are out"


def promises() -> Iterator[str]:
    """Promises are of one's own club's kit and for its nights."""
    for row in Promise.objects.select_related("holding", "night").iterator():
        if row.holding.club_id != row.night.club_id:
            yield f"promise {row.pk} brings another club's kit"
