"""Supply as values: what stands where, and what came of it.

Supply is counted in loads. A load leaves a stock whole, takes up one place on each road it travels, and loses on each
step some hundredths of itself; what is left of it at the end has arrived, the rest is spoilt. So stocks fall by whole
loads only, and `100 x sent = arrived + spoilt` holds to the last hundredth, with no rounding anywhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

from league.engines.maps import Map
from league.engines.rulesets import Violation

__all__ = [
    "HUNDRED",
    "BadSituation",
    "Barrier",
    "Cut",
    "Delivery",
    "Distribution",
    "Force",
    "ForceSupply",
    "RoadUse",
    "Sending",
    "Sent",
    "Situation",
    "Step",
    "Stock",
    "StockUse",
    "SupplyState",
]

HUNDRED: Final = 100  # hundredths in a load
# Supplied: every load it needs was sent. Short: some were not. Cut off: no way leads to it from any stock.
SupplyState = Literal["supplied", "short", "cut_off"]


class BadSituation(ValueError):
    """Nothing can be reckoned. `violations` has every reason."""

    def __init__(self, violations: tuple[Violation, ...]) -> None:
        self.violations = violations
        super().__init__(" ".join(f"{each.place}: {each.text}" for each in violations))


@dataclass(frozen=True, kw_only=True, slots=True)
class Stock:
    """What a faction has lying in a region: a depot. `loads` may be 0, for one that is empty."""

    region: str
    faction: str
    loads: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Force:
    """`need` in loads a turn; `importance` 1 is served first, equal numbers together."""

    key: str
    name: str
    faction: str
    region: str
    need: int
    importance: int = 1


@dataclass(frozen=True, kw_only=True, slots=True)
class Situation:
    """A turn as supply finds it. `holders`: region -> faction; a region not named is held by nobody.

    Supply passes through regions the faction holds, through those of its `friends` (faction -> factions that let it
    pass) and through those nobody holds. A region an enemy holds blocks. A contested one blocks too, but supply may come in to the forces that fight there; what lies in stock there serves
    them alone, and it yields nothing. A road carries its capacity for each faction that may use it.
    """

    map: Map
    factions: tuple[str, ...]
    holders: Mapping[str, str]
    stocks: tuple[Stock, ...] = ()
    forces: tuple[Force, ...] = ()
    contested: frozenset[str] = field(default_factory=frozenset)
    friends: Mapping[str, frozenset[str]] = field(default_factory=dict)

    def welcome(self, region: str, faction: str) -> bool:
        """Whether the holder of the region lets the faction pass: it does so itself, its friends do, nobody does."""
        holder = self.holders.get(region, faction)
        return holder == faction or holder in self.friends.get(faction, ())


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    road: str
    start: str
    end: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Delivery:
    """`loads` that went from the stock in region `stock` to `force` by `steps` (none: it lies where the force stands).

    `loss` is what each load lost on the way, in hundredths of a load: the sum of the steps', at most the whole load.
    """

    faction: str
    stock: str
    force: str
    loads: int
    steps: tuple[Step, ...]
    loss: int

    @property
    def spoilt(self) -> int:
        """Hundredths of a load."""
        return self.loads * self.loss

    @property
    def arrived(self) -> int:
        """Hundredths of a load."""
        return self.loads * (HUNDRED - self.loss)


@dataclass(frozen=True, kw_only=True, slots=True)
class Sending:
    """An order to carry `loads` from a stock to another region, once the forces are fed."""

    key: str
    faction: str
    origin: str
    to: str
    loads: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Sent:
    """What came of a sending: `loads` of those `asked` left, as many as stock and roads allowed.

    In hundredths of a load, `100 x loads = arrived + spoilt`.
    """

    key: str
    faction: str
    origin: str
    to: str
    asked: int
    loads: int
    arrived: int
    spoilt: int
    deliveries: tuple[Delivery, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class RoadUse:
    """What a faction's loads make of a road this turn; all of them travel one way."""

    faction: str
    road: str
    start: str
    end: str
    loads: int
    capacity: int

    @property
    def full(self) -> bool:
        return self.loads == self.capacity


@dataclass(frozen=True, kw_only=True, slots=True)
class StockUse:
    """A stock's turn: `held + produced = sent + kept` in loads, `100 x sent = arrived + spoilt` in hundredths."""

    faction: str
    region: str
    held: int
    produced: int
    sent: int
    arrived: int
    spoilt: int

    @property
    def kept(self) -> int:
        return self.held + self.produced - self.sent


@dataclass(frozen=True, kw_only=True, slots=True)
class Barrier:
    """A region that blocks: held by the enemy `holder`, or contested."""

    region: str
    holder: str | None
    contested: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Cut:
    """Why a force got no more: a part of the map around it into which nothing more could be brought.

    Everything that may enter `regions` comes by `full_roads`, each carrying all it can, or out of `spent` stocks inside,
    each emptied; `barriers` are the regions beyond which more lies. `shared_with` are the forces inside, as
    important or more so, that got what came. `loads` is what could get in at the most: the worth of the cut (L. R.
    Ford and D. R. Fulkerson, 1956: the greatest flow equals the least cut).
    """

    regions: tuple[str, ...]
    full_roads: tuple[str, ...]
    spent: tuple[str, ...]
    barriers: tuple[Barrier, ...]
    shared_with: tuple[str, ...]
    loads: int


@dataclass(frozen=True, kw_only=True, slots=True)
class ForceSupply:
    """`loads` were sent of `need`; `arrived` hundredths of a load came of them. `why` is None for a supplied force."""

    force: str
    faction: str
    state: SupplyState
    need: int
    loads: int
    arrived: int
    why: Cut | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Distribution:
    """Forces by faction, importance and key; stocks and roads by faction and key."""

    forces: tuple[ForceSupply, ...]
    deliveries: tuple[Delivery, ...]
    stocks: tuple[StockUse, ...]
    roads: tuple[RoadUse, ...]

    def force(self, key: str) -> ForceSupply:
        return next(each for each in self.forces if each.force == key)
