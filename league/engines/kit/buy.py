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

from league.engines.kit.colours import in_colours, letters_of, words_of_colours
from league.engines.kit.items import good_of
from league.engines.kit.model import Importance, Use
from league.engines.kit.needs import Asked
from league.engines.kit.night import Holding, night_of
from league.engines.kit.offers import Bought, Offer, OffersUnsound, Purchase, faults_of_offers
from league.engines.kit.plan.program import Ints, Program
from league.engines.kit.plan.solver import solve_whole

__all__ = ["buy"]

IMPORTANCES: Final[tuple[Importance, ...]] = ("needed", "wanted", "pleasant")
SECONDS: Final = 5.0


def buy(missing: Iterable[tuple[Asked, int]], offers: Iterable[Offer], *, budget_pence: int | None = None) -> Purchase:
    """The best purchase for so many missing pieces of each demand; what could stand in is not bought.

    A pack is of one colour, and one buys the right one. What is bought for a side that is told apart is of
    one colour, in no more colours than the most such sides at one table. It does not depend on the order
    of anything.

    Raises OffersUnsound with all that is wrong.
    """
    wanted = [replace(asked, demand=replace(asked.demand, count=count)) for asked, count in missing if count > 0]
    wanted.sort(key=lambda asked: asked.demand.key)
    offers = sorted(offers, key=lambda offer: (offer.price_pence, -offer.pieces, offer.key))
    faults = tuple(faults_of_offers(offers, budget_pence))
    if faults:
        raise OffersUnsound(faults)
    market = _Market.of(wanted, in_colours(wanted, offers), budget_pence)
    point, proven = market.best()
    return Purchase(
        lines=tuple(market.lines(point, offers, proven=proven)),
        left=tuple(market.left(point, proven=proven)),
        budget_pence=budget_pence,
        proven=proven,
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class _Market:
    """The programme: packs bought -> pieces of a good -> uses -> demands, and what stays missing of each."""

    wanted: Sequence[Asked]
    offers: Sequence[Offer]  # one for each colour
    uses: Sequence[Use]
    program: Program
    packs: Sequence[int]  # columns, by offer
    times: Sequence[int]  # columns, by use
    missing: Sequence[int]  # columns, by demand
    sold: Mapping[str, Sequence[int]]  # places of offers, by good
    budget_pence: int | None

    @classmethod
    def of(cls, wanted: Sequence[Asked], offers: Sequence[Offer], budget_pence: int | None) -> _Market:
        plain = [replace(asked, stand_ins=()) for asked in wanted]
        uses = night_of(plain, map(_on_sale, offers), ()).uses
        program, most = Program(), sum(asked.demand.count for asked in wanted)
        useful = {use.good for use in uses}
        sold: defaultdict[str, list[int]] = defaultdict(list)
        for place, offer in enumerate(offers):
            sold[good_of(offer.piece)].append(place)
        packs = [
            program.column(0, _most(offer, most, budget_pence) if good_of(offer.piece) in useful else 0)
            for offer in offers
        ]
        times = [program.column(0, most) for _use in uses]
        missing = [program.column(0, asked.demand.count) for asked in wanted]
        for asked, column in zip(wanted, missing, strict=True):
            met = {time: dict(use.covers).get(asked.demand.key, 0) for time, use in zip(times, uses, strict=True)}
            program.at_least(asked.demand.count, {**met, column: 1})
        for good in sorted(useful):
            taken = {time: use.takes for time, use in zip(times, uses, strict=True) if use.good == good}
            program.at_most(0, {**taken, **{packs[place]: -offers[place].pieces for place in sold[good]}})
        for limit, columns in _limits(packs, offers):
            program.at_most(limit, dict.fromkeys(columns, 1))
        _tell_apart(program, wanted, uses, times)
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
            sold=sold,
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

    def lines(self, point: Ints, offers: Iterable[Offer], *, proven: bool) -> Iterator[Bought]:
        """By offer, whatever the colour. Of several packs of one good, the first in the order of offers serve first."""
        spare = [int(point[column]) * offer.pieces for column, offer in zip(self.packs, self.offers, strict=True)]
        serves = self._dealt(point, spare)
        letters = letters_of(
            offer.piece.colour for column, offer in zip(self.packs, self.offers, strict=True) if point[column]
        )
        for offer in offers:
            places = [at for at, each in enumerate(self.offers) if each.key == offer.key and point[self.packs[at]]]
            if places:
                packs = [(self.offers[at].piece.colour, int(point[self.packs[at]])) for at in places]
                why = (self._why_these(places, proven=proven), words_of_colours(packs, letters))
                yield Bought(
                    offer=offer,
                    packs=sum(count for _colour, count in packs),
                    serves=tuple(sorted(sum((serves[at] for at in places), Counter()).items())),
                    over=sum(spare[at] for at in places),
                    why=" ".join(filter(None, why)),
                )

    def _dealt(self, point: Ints, spare: list[int]) -> Mapping[int, Counter[str]]:
        """What pieces of each offer meet, by its place; they are taken out of `spare`. What is bought is the thing itself,
        so every use takes one piece."""
        open_ = {
            asked.demand.key: asked.demand.count - int(point[column])
            for asked, column in zip(self.wanted, self.missing, strict=True)
        }
        serves: defaultdict[int, Counter[str]] = defaultdict(Counter)
        for use, column in zip(self.uses, self.times, strict=True):
            times = int(point[column])
            for place in self.sold[use.good]:
                taken = min(times, spare[place])
                times -= taken
                spare[place] -= taken
                for key, _one in use.covers:
                    met = min(taken, open_[key])
                    open_[key] -= met
                    if met:
                        serves[place][key] += met
        return serves

    def left(self, point: Ints, *, proven: bool) -> Iterator[tuple[str, int, str]]:
        sold = {key for use in self.uses for key, _pieces in use.covers}
        for asked, column in zip(self.wanted, self.missing, strict=True):
            if point[column]:
                why = self._why_left(is_sold=asked.demand.key in sold, proven=proven)
                yield asked.demand.key, int(point[column]), why

    def _why_these(self, places: Sequence[int], *, proven: bool) -> str:
        """By the other packs that would serve any of what these serve."""
        mine = {good_of(self.offers[at].piece) for at in places}
        served = {key for use in self.uses if use.good in mine for key, _one in use.covers}
        goods = {use.good for use in self.uses if any(key in served for key, _one in use.covers)}
        sold = (self.offers[at] for good in goods for at in self.sold[good])
        choices = len({each.key for each in sold if each.most != 0})
        if choices == 1:
            return "No other pack that is noted would serve."
        if not proven:
            return f"{choices} packs would serve; there was no time to prove that no choice is better."
        return f"{choices} packs would serve; no choice leaves less missing, or as little for less money."

    def _why_left(self, *, is_sold: bool, proven: bool) -> str:
        if not is_sold:
            return "No pack that is noted would serve."
        if not proven:
            return "There was no time to prove that no purchase leaves less missing."
        if self.budget_pence is None:
            return "There are no more packs to be had."
        return "Within the budget no purchase leaves less of what matters as much or more."


def _tell_apart(program: Program, wanted: Sequence[Asked], uses: Sequence[Use], times: Sequence[int]) -> None:
    """What is bought for a side that is told apart has one look, and no two sides of a table have the same."""
    by_look: defaultdict[tuple[str, str, str], dict[int, int]] = defaultdict(dict)
    for asked in wanted:
        if asked.sharing == "apart":
            mine = [
                (use.look, time) for use, time in zip(uses, times, strict=True) if asked.demand.key in dict(use.covers)
            ]
            chosen = {look: program.column(0, 1) for look in sorted({look for look, _time in mine})}
            for look, time in mine:
                program.at_most(0, {time: 1, chosen[look]: -asked.demand.count})
            for look, column in chosen.items():
                by_look[asked.demand.table, asked.need, look][column] = 1
            program.at_most(1, dict.fromkeys(chosen.values(), 1))
    for columns in by_look.values():
        program.at_most(1, columns)


def _limits(packs: Sequence[int], offers: Sequence[Offer]) -> Iterator[tuple[int, Sequence[int]]]:
    """How many packs of one offer are to be had in all its colours together."""
    colours: defaultdict[tuple[str, int], list[int]] = defaultdict(list)
    for column, offer in zip(packs, offers, strict=True):
        if offer.most is not None:
            colours[offer.key, offer.most].append(column)
    for (_key, most), columns in colours.items():
        if len(columns) > 1:
            yield most, columns


def _on_sale(offer: Offer) -> Holding:
    return Holding(key=offer.key, name=offer.name, piece=offer.piece, count=offer.pieces)


def _most(offer: Offer, missing: int, budget_pence: int | None) -> int:
    """More packs than this would be for nothing, or out of reach."""
    limits = [-(-missing // offer.pieces), offer.most]
    if budget_pence is not None and offer.price_pence:
        limits.append(budget_pence // offer.price_pence)
    return min(limit for limit in limits if limit is not None)


def _prices(packs: Sequence[int], offers: Sequence[Offer]) -> dict[int, int]:
    return {column: offer.price_pence for column, offer in zip(packs, offers, strict=True)}
