"""What the club would buy for what a night is short of, out of the packs that are noted with its kinds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import cast

from django.db.models import Prefetch

from league.clubs.models import Night
from league.engines.kit.buy import buy
from league.engines.kit.items import Piece
from league.engines.kit.offers import Bought, Offer, Purchase
from league.engines.rulesets import Category
from league.stores.models import ItemKind, PackOffer
from league.stores.queries.lists import Short, shortfalls
from league.stores.queries.plan import NightPlan

__all__ = ["LeftShort", "Shopping", "ShoppingLine", "kinds_with_offers", "piece_of_kind", "shopping_for", "shopping_of"]

IMPORTANCES = ("needed", "wanted", "pleasant")


@dataclass(frozen=True, kw_only=True, slots=True)
class ShoppingLine:
    """So many packs of one offer, and what they are for by the needs' names."""

    kind: ItemKind
    offer: PackOffer
    bought: Bought
    serves: tuple[tuple[str, int], ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class LeftShort:
    """What stays missing whatever is bought, and why."""

    name: str
    table: str
    count: int
    why: str


@dataclass(frozen=True, kw_only=True, slots=True)
class StillShort:
    name: str
    count: int
    tables: tuple[str, ...]
    why: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Shopping:
    """The best purchase, in the club's own rows. `has_packs`: whether any pack is noted at all."""

    purchase: Purchase
    lines: tuple[ShoppingLine, ...]
    left: tuple[LeftShort, ...]
    has_packs: bool

    @property
    def still_short(self) -> list[StillShort]:
        """What stays missing, once for all the tables that lack it for the same reason."""
        found: dict[tuple[str, str], list[LeftShort]] = {}
        for each in self.left:
            found.setdefault((each.name, each.why), []).append(each)
        return [
            StillShort(
                name=name,
                count=sum(each.count for each in alike),
                tables=tuple(dict.fromkeys(each.table for each in alike)),
                why=why,
            )
            for (name, why), alike in found.items()
        ]


def kinds_with_offers(night: Night) -> list[ItemKind]:
    """The club's kinds that can be made or bought, each with the packs it is sold in: two queries."""
    standing = PackOffer.objects.filter(withdrawn_at=None)
    kinds = ItemKind.objects.filter(club=night.club_id, retired_at=None).order_by("name", "pk")
    return list(kinds.prefetch_related(Prefetch("offers", standing)))


def piece_of_kind(kind: ItemKind) -> Piece:
    return Piece(
        category=cast("Category", kind.category), use=kind.use, sides=kind.sides, sizes_mm=tuple(kind.sizes_mm)
    )


def shopping_for(planned: NightPlan, *, budget_pence: int | None = None) -> Shopping:
    """For whoever has nothing but the plan: two queries, none where nothing is missing."""
    short = shortfalls(planned)
    return shopping_of(short, kinds_with_offers(planned.night) if short else [], budget_pence=budget_pence)


def shopping_of(short: Sequence[Short], kinds: Sequence[ItemKind], *, budget_pence: int | None = None) -> Shopping:
    """What to buy for these shortfalls; what can be made from a kind is for the maker to say, and is not left out here."""
    rows = {str(offer.pk): (kind, offer) for kind in kinds for offer in kind.offers.all()}
    offers = [
        Offer(
            key=key,
            name=kind.name,
            piece=piece_of_kind(kind),
            pieces=offer.pieces,
            price_pence=offer.price_pence,
        )
        for key, (kind, offer) in rows.items()
    ]
    by_key = {each.asked.demand.key: each for each in short}
    order = {key: (IMPORTANCES.index(each.shortfall.importance), at) for at, (key, each) in enumerate(by_key.items())}
    purchase = buy([(each.asked, each.shortfall.missing) for each in short], offers, budget_pence=budget_pence)
    return Shopping(
        purchase=purchase,
        lines=tuple(
            ShoppingLine(
                kind=rows[line.offer.key][0],
                offer=rows[line.offer.key][1],
                bought=line,
                serves=by_name((by_key[key].asked.demand.name, count) for key, count in line.serves),
            )
            for line in sorted(purchase.lines, key=lambda line: rows[line.offer.key][0].name)
        ),
        left=tuple(
            LeftShort(name=by_key[key].asked.demand.name, table=by_key[key].table.name, count=count, why=why)
            for key, count, why in sorted(purchase.left, key=lambda left: order[left[0]])
        ),
        has_packs=bool(rows),
    )


def by_name(serves: Iterable[tuple[str, int]]) -> tuple[tuple[str, int], ...]:
    """What several tables need by one name, together."""
    counts: Counter[str] = Counter()
    for name, count in serves:
        counts[name] += count
    return tuple(counts.items())
