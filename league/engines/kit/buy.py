"""What to buy for what a plan leaves missing: whole packs, as little left missing as can be, at least cost.

Exact, in whole numbers: first the fewest pieces missing by importance, then the fewest pence, then the fewest packs; all
within the budget, if there is one. (A covering problem with a knapsack's limit; HiGHS searches it and proves it.)
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from league.engines.kit.items import Piece, good_of
from league.engines.kit.model import Importance, Use
from league.engines.kit.needs import Asked
from league.engines.kit.night import Holding, night_of
from league.engines.kit.plan.program import Ints, Program
from league.engines.kit.plan.solver import solve_whole

__all__ = ["Bought", "Offer", "OffersUnsound", "Purchase", "buy"]

IMPORTANCES: Final[tuple[Importance, ...]] = ("needed", "wanted", "pleasant")
SECONDS: Final = 5.0
MOST_PIECES: Final = 100_000
MOST_PENCE: Final = 10_000_000


@dataclass(frozen=True, kw_only=True, slots=True)
class Offer:
    """A pack: so many pieces of one sort for so many pence. `most`: how many packs are to be had; None: any number."""

    key: str
    name: str
    piece: Piece
    pieces: int
    price_pence: int
    most: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Bought:
    """`packs` of one offer. `serves`: pieces of demands met by it, by their key; `over`: pieces nobody needs this night."""

    offer: Offer
    packs: int
    serves: tuple[tuple[str, int], ...]
    over: int

    @property
    def pieces(self) -> int:
        return self.packs * self.offer.pieces

    @property
    def cost_pence(self) -> int:
        return self.packs * self.offer.price_pence


@dataclass(frozen=True, kw_only=True, slots=True)
class Purchase:
    """`left`: what stays missing, by the demand's key, with a sentence why. `proven`: no purchase is better."""

    lines: tuple[Bought, ...]
    left: tuple[tuple[str, int, str], ...]
    budget_pence: int | None
    proven: bool

    @property
    def cost_pence(self) -> int:
        return sum(line.cost_pence for line in self.lines)


class OffersUnsound(ValueError):
    """Offers with absurd numbers, or named twice; `faults` has every fault, one sentence each."""

    def __init__(self, faults: Iterable[str]) -> None:
        self.faults = tuple(faults)
        super().__init__(" ".join(self.faults))


def buy(missing: Iterable[tuple[Asked, int]], offers: Iterable[Offer], *, budget_pence: int | None = None) -> Purchase:
    """The best purchase for so many missing pieces of each demand; what could stand in is not bought.

    Whatever its colour, a pack serves: one buys the right one. It does not depend on the order of anything.

    Raises OffersUnsound with all that is wrong.
    """
    wanted = [replace(asked, demand=replace(asked.demand, count=count)) for asked, count in missing if count > 0]
    wanted.sort(key=lambda asked: asked.demand.key)
    offers = sorted(offers, key=lambda offer: (offer.price_pence, -offer.pieces, offer.key))
    faults = tuple(_faults(offers, budget_pence))
    if faults:
        raise OffersUnsound(faults)
    market = _Market.of(wanted, offers, budget_pence)
    point, proven = market.best()
    return Purchase(
        lines=tuple(market.lines(point)),
        left=tuple(market.left(point)),
        budget_pence=budget_pence,
        proven=proven,
    )


def _faults(offers: Sequence[Offer], budget_pence: int | None) -> Iterator[str]:
    for key, times in Counter(offer.key for offer in offers).items():
        if times > 1:
            yield f"The pack “{key}” is there {times} times."
    for offer in offers:
        if not 1 <= offer.pieces <= MOST_PIECES:
            yield f"The pack “{offer.key}” has {offer.pieces} pieces; it must be from 1 to {MOST_PIECES}."
        if not 0 <= offer.price_pence <= MOST_PENCE:
            yield f"The pack “{offer.key}” costs {offer.price_pence} pence; it must be from 0 to {MOST_PENCE}."
        if offer.most is not None and not 0 <= offer.most <= MOST_PIECES:
            yield f"There are {offer.most} packs “{offer.key}”; it must be from 0 to {MOST_PIECES}."
    if budget_pence is not None and budget_pence < 0:
        yield f"The budget is {budget_pence} pence; it cannot be less than nothing."


@dataclass(frozen=True, kw_only=True, slots=True)
class _Market:
    """The programme: packs bought -> pieces of a good -> uses -> demands, and what stays missing of each."""

    wanted: Sequence[Asked]
    offers: Sequence[Offer]
    uses: Sequence[Use]
    program: Program
    packs: Sequence[int]  # columns, by offer
    times: Sequence[int]  # columns, by use
    missing: Sequence[int]  # columns, by demand
    budget_pence: int | None

    @classmethod
    def of(cls, wanted: Sequence[Asked], offers: Sequence[Offer], budget_pence: int | None) -> _Market:
        plain = [replace(asked, wanted=replace(asked.wanted, colour=""), stand_ins=()) for asked in wanted]
        uses = night_of(plain, [_on_sale(offer) for offer in offers], ()).uses
        program, most = Program(), sum(asked.demand.count for asked in wanted)
        useful = {use.good for use in uses}
        packs = [
            program.column(0, _most(offer, most, budget_pence) if _good(offer) in useful else 0) for offer in offers
        ]
        times = [program.column(0, most) for _use in uses]
        missing = [program.column(0, asked.demand.count) for asked in wanted]
        for asked, column in zip(wanted, missing, strict=True):
            met = {time: dict(use.covers).get(asked.demand.key, 0) for time, use in zip(times, uses, strict=True)}
            program.at_least(asked.demand.count, {**met, column: 1})
        for good in sorted(useful):
            taken = {time: use.takes for time, use in zip(times, uses, strict=True) if use.good == good}
            sold = {pack: -offer.pieces for pack, offer in zip(packs, offers, strict=True) if _good(offer) == good}
            program.at_most(0, {**taken, **sold})
        if budget_pence is not None:
            program.at_most(budget_pence, _prices(packs, offers))
        return cls(
            wanted=wanted,
            offers=offers,
            uses=uses,
            program=program,
            packs=packs,
            times=times,
            missing=missing,
            budget_pence=budget_pence,
        )

    def aims(self) -> Iterator[Mapping[int, int]]:
        """What is to be least, one after the other; at last the earlier offers and demands, so that one answer is left."""
        for importance in IMPORTANCES:
            yield {
                column: 1
                for asked, column in zip(self.wanted, self.missing, strict=True)
                if asked.demand.importance == importance
            }
        yield _prices(self.packs, self.offers)
        yield dict.fromkeys(self.packs, 1)
        yield {column: place for place, column in enumerate(self.packs)}
        yield {column: place for place, column in enumerate(self.missing)}
        yield {column: place + 1 for place, column in enumerate(self.times)}

    def best(self) -> tuple[Ints, bool]:
        point = np.zeros(len(self.program.lower), dtype=np.int64)
        point[list(self.missing)] = [asked.demand.count for asked in self.wanted]
        proven = True
        for aim in self.aims():
            costs = self.program.costs(aim)
            if not costs.any():
                continue
            found = solve_whole(self.program, costs, SECONDS, start=point, stop_at=0)
            if found.point is not None and self.program.allows(found.point) and costs @ found.point <= costs @ point:
                point = found.point
            value = int(costs @ point)
            proven = proven and value in {0, found.least}
            self.program.at_most(value, aim)
        return point, proven

    def lines(self, point: Ints) -> Iterator[Bought]:
        """Of several packs of one good, the first serve first."""
        serves: defaultdict[str, Counter[str]] = defaultdict(Counter)
        used: Counter[str] = Counter()
        for use, column in zip(self.uses, self.times, strict=True):
            used[use.good] += use.takes * int(point[column])
            for key, pieces in use.covers:
                serves[use.good][key] += pieces * int(point[column])
        for offer, column in zip(self.offers, self.packs, strict=True):
            packs, good = int(point[column]), _good(offer)
            if packs:
                taken = min(used[good], packs * offer.pieces)
                used[good] -= taken
                met = tuple(sorted((key, count) for key, count in serves[good].items() if count))
                yield Bought(offer=offer, packs=packs, serves=met, over=packs * offer.pieces - taken)

    def left(self, point: Ints) -> Iterator[tuple[str, int, str]]:
        sold = {key for use in self.uses for key, _pieces in use.covers}
        for asked, column in zip(self.wanted, self.missing, strict=True):
            if point[column]:
                yield asked.demand.key, int(point[column]), self._why(asked.demand.key in sold)

    def _why(self, is_sold: bool) -> str:  # noqa: FBT001 - one of two sentences
        if not is_sold:
            return "No pack that is noted would serve."
        if self.budget_pence is None:
            return "There are no more packs to be had."
        return "Within the budget no purchase leaves less of what matters as much or more."


def _good(offer: Offer) -> str:
    return good_of(replace(offer.piece, colour=""))


def _on_sale(offer: Offer) -> Holding:
    return Holding(key=offer.key, name=offer.name, piece=replace(offer.piece, colour=""), count=offer.pieces)


def _most(offer: Offer, missing: int, budget_pence: int | None) -> int:
    """More packs than this would be for nothing, or out of reach."""
    limits = [-(-missing // offer.pieces), offer.most]
    if budget_pence is not None and offer.price_pence:
        limits.append(budget_pence // offer.price_pence)
    return min(limit for limit in limits if limit is not None)


def _prices(packs: Sequence[int], offers: Sequence[Offer]) -> dict[int, int]:
    return {column: offer.price_pence for column, offer in zip(packs, offers, strict=True)}
