"""Packs that are sold, and a purchase out of them, as values. Money is whole pence."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from league.engines.kit.items import Piece

__all__ = ["Bought", "Offer", "OffersUnsound", "Purchase", "faults_of_offers"]

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
    """`packs` of one offer. `serves`: pieces of demands met by these very packs, by the demand's key, of tools several
    by one piece; `over`: pieces nobody needs this night; `why` is a sentence."""

    offer: Offer
    packs: int
    serves: tuple[tuple[str, int], ...]
    over: int
    why: str

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


def faults_of_offers(offers: Sequence[Offer], budget_pence: int | None) -> Iterator[str]:
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
