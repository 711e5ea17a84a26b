"""What can be on the tables of a night: who comes, what they can carry, and what of theirs and the club's is free."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final, cast

from django.db.models import Q

from league.clubs.models import Attendance, Night
from league.engines.kit.items import Piece
from league.engines.kit.model import Carrier, Packed
from league.engines.kit.night import Holding as EngineHolding
from league.engines.rulesets import Category
from league.stores.models import Carrying, Holding, Loan, Promise, PromiseTable
from league.stores.queries.balances import Balance, Window, balances_of
from league.stores.queries.tonight import key_of

__all__ = ["CARRIES_ML", "AtHand", "at_hand_for", "carriers_of", "piece_of", "promises_of"]

# What goes into a pocket, a bag, a large box, a car boot: common practice, no source.
CARRIES_ML: Final[Mapping[str, int]] = {"pocket": 1_000, "bag": 20_000, "box": 60_000, "car": 300_000}


@dataclass(frozen=True, kw_only=True, slots=True)
class AtHand:
    """Pieces that could be used on the night: of a holding, or, with a `loan`, of what a member has borrowed of it."""

    holding: Holding
    loan: Loan | None
    supply: EngineHolding

    @property
    def key(self) -> str:
        return self.supply.key


def carriers_of(night: Night, players: Mapping[int, tuple[str, ...]], packers: Iterable[int]) -> tuple[Carrier, ...]:
    """Those who said they come, by name; two queries. `players`: the tables each member plays at."""
    said: dict[int, str] = dict(Carrying.objects.filter(night=night).values_list("member", "room"))
    coming = (
        Attendance.objects.filter(night=night, answer=Attendance.Answer.COMING, member__left_at=None)
        .order_by("member__name", "member")
        .values_list("member", "member__name")
    )
    packed = set(packers)
    return tuple(
        Carrier(
            key=str(pk),
            name=name,
            tables=players.get(pk, ()),
            carries_most_ml=CARRIES_ML.get(said.get(pk, "")),
            has_packed=pk in packed,
        )
        for pk, name in coming
    )


def promises_of(night: Night) -> list[Promise]:
    """What stands promised for a night, with its holding, member and games: two queries."""
    rows = Promise.objects.filter(night=night, withdrawn_at=None).select_related("holding__kind", "member", "loan")
    return list(rows.prefetch_related("tables").order_by("member__name", "pk"))


def packed_in(promises: Iterable[Promise]) -> Iterator[Packed]:
    for promise in promises:
        tables: Iterable[PromiseTable] = promise.tables.all() if promise.packed_at else ()
        for each in tables:
            yield Packed(
                supply=supply_key(promise.holding_id, promise.loan_id), table=key_of(each.game_id), count=each.count
            )


def supply_key(holding: int, loan: int | None) -> str:
    return f"loan:{loan}" if loan else f"holding:{holding}"


def at_hand_for(
    night: Night, carriers: Iterable[Carrier], promises: Iterable[Promise], *, today: date
) -> tuple[AtHand, ...]:
    """What is free for the night of those who come and of the club; four queries.

    What its owner keeps to themselves counts as far as they promised it. What is promised for another night of the
    same day is gone; what is promised for this one is what it is promised for.
    """
    coming = {int(carrier.key) for carrier in carriers}
    promised: defaultdict[int, int] = defaultdict(int)
    for promise in promises:
        if promise.loan_id is None:
            promised[promise.holding_id] += promise.count
    there = Q(venue=night.venue_id) | Q(venue=None)
    whose = Q(owner__in=coming) | Q(owner=None) | Q(venue=night.venue_id)
    rows = list(
        Holding.objects.standing()
        .filter(there & whose, club=night.club_id)
        .filter(Q(is_private=False) | Q(pk__in=promised))
        .select_related("kind", "owner", "keeper")
        .order_by("pk")
    )
    window = Window.of_day(night.on, today=today)
    balances = balances_of(Holding.objects.filter(pk__in=[row.pk for row in rows]), night.club, window)
    own = [(row, free_of(row, balances[row.pk], promised[row.pk])) for row in rows]
    found = [
        AtHand(holding=row, loan=None, supply=as_supply(row, supply_key(row.pk, None), free, carrier_of(row)))
        for row, free in own
        if free and (row.venue_id or carrier_of(row) in {None, *coming})
    ]
    return (*found, *borrowed(night, coming, today))


def free_of(holding: Holding, balance: Balance, promised: int) -> int:
    """Free on the night, what is promised for it included; of what is private, no more than that."""
    free = max(0, min(balance.spare + promised, balance.held - balance.out + balance.back))
    return min(free, promised) if holding.is_private else free


def carrier_of(holding: Holding) -> int | None:
    """Who must bring it; None: it lies at the venue, or wherever the club keeps it."""
    return None if holding.venue_id else holding.keeper_id or holding.owner_id


def borrowed(night: Night, coming: set[int], today: date) -> Iterator[AtHand]:
    """What is out with somebody who comes, unless it is to be back with its owner before the night."""
    late_or_later = Q(due_on__gte=night.on) | Q(due_on__lt=today)
    loans = Loan.objects.filter(late_or_later, borrower__in=coming, handed_at__isnull=False)
    for loan in loans.outstanding().select_related("holding__kind", "holding__owner").order_by("pk"):
        pieces: int = loan.outstanding  # type: ignore[attr-defined]
        supply = as_supply(loan.holding, supply_key(loan.holding_id, loan.pk), pieces, loan.borrower_id)
        yield AtHand(holding=loan.holding, loan=loan, supply=supply)


def as_supply(holding: Holding, key: str, count: int, carrier: int | None) -> EngineHolding:
    colour = f", {holding.colour}" if holding.colour else ""
    return EngineHolding(
        key=key,
        name=f"{holding.kind.name}{colour}",
        piece=piece_of(holding),
        count=count,
        carrier=None if carrier is None else str(carrier),
        bulk_ml=holding.kind.bulk_ml,
    )


def piece_of(holding: Holding) -> Piece:
    kind = holding.kind
    return Piece(
        category=cast("Category", kind.category),
        use=kind.use,
        sides=kind.sides,
        sizes_mm=tuple(kind.sizes_mm),
        scale_mm=holding.scale_mm,
        colour=holding.colour,
    )
