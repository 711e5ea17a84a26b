"""A campaign as facts: how the war began, and everything that was ordered, reported, rolled and ruled since.

These are the whole memory of a war; the state of any turn is a fold over them (`league.engines.war.fold`). A fact is
never changed: a later one may name it in `supersedes` and takes its place in the order. Keys of regions, roads,
factions and forces are the campaign's own; ids of facts and units are the caller's.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from league.engines.maps import Map
from league.engines.rulesets import Ruleset, UnitId
from league.engines.strength import Casualty, Engagement, RosterUnit
from league.engines.war.rules import USUAL, Rules

__all__ = [
    "AddDepot",
    "AwardPoints",
    "BattleOutcome",
    "BuildDepot",
    "Campaign",
    "Closed",
    "Depot",
    "DigIn",
    "DropDepot",
    "Effect",
    "Fact",
    "FactId",
    "Faction",
    "Force",
    "ForceOutcome",
    "GrantStock",
    "Hold",
    "Holding",
    "Laws",
    "MapEdited",
    "Move",
    "Order",
    "OrderSet",
    "OutsideBattle",
    "PlaceForce",
    "Postponed",
    "RaiseForce",
    "Rebuild",
    "RemoveForce",
    "Replacement",
    "Revealed",
    "Roll",
    "Ruling",
    "SendSupply",
    "SetControl",
    "Settlement",
    "Source",
    "Stock",
    "TurnSeed",
    "in_force",
]

FactId = int | str
Source = Literal["report", "conceded", "simulated", "ruled"]


# How the war began.


@dataclass(frozen=True, kw_only=True, slots=True)
class Faction:
    """One party of the war. Factions of the same `side` are allies; an empty `side` stands alone."""

    key: str
    name: str
    side: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Force:
    """One roster on the map. `units` are as written down when it entered the war; `need` is the loads of supply it
    wants a turn; `pace` how many roads it may follow in one."""

    key: str
    name: str
    faction: str
    region: str
    units: tuple[RosterUnit, ...]
    need: int = 0
    pace: int = 1
    dug_in: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Depot:
    """A place of a faction's where supply is kept, one a region at most."""

    region: str
    faction: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Holding:
    """Who holds a region."""

    region: str
    faction: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Stock:
    """Supply that lies in a region, at a depot or a source there, in whole loads."""

    region: str
    faction: str
    amount: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Campaign:
    """The war as it began, before turn 1. What is not held belongs to nobody."""

    name: str
    map: Map
    ruleset: Ruleset
    rules: Rules = USUAL
    factions: tuple[Faction, ...]
    forces: tuple[Force, ...]
    holdings: tuple[Holding, ...] = ()
    depots: tuple[Depot, ...] = ()
    stocks: tuple[Stock, ...] = ()

    def faction(self, key: str) -> Faction | None:
        return next((each for each in self.factions if each.key == key), None)

    def side_of(self, faction: str) -> str:
        """Allies share it; whoever stands alone is a side of their own."""
        found = self.faction(faction)
        return f"side:{found.side}" if found and found.side else f"faction:{faction}"

    def hostile(self, one: str, other: str) -> bool:
        return self.side_of(one) != self.side_of(other)


# Orders. A force carries out one a turn; building and sending are the faction's.


@dataclass(frozen=True, kw_only=True, slots=True)
class Move:
    """Follow these roads, one after the other, each by its key."""

    force: str
    roads: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Hold:
    force: str


@dataclass(frozen=True, kw_only=True, slots=True)
class DigIn:
    """Entrench; it lasts until the force leaves."""

    force: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Replacement:
    """So many recruits for a unit."""

    unit_id: UnitId
    figures: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Rebuild:
    """Stay, and take in recruits as far as supply pays for them, in this order."""

    force: str
    replacements: tuple[Replacement, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class BuildDepot:
    region: str


@dataclass(frozen=True, kw_only=True, slots=True)
class SendSupply:
    """From one's depot or source to another, by the cheapest way that still carries it once the forces are fed."""

    origin: str
    to: str
    amount: int


Order = Move | Hold | DigIn | Rebuild | BuildDepot | SendSupply


# Facts. `turn` counts from 1; `sequence` is the server's order over all facts of a campaign.


@dataclass(frozen=True, kw_only=True, slots=True)
class Fact:
    id: FactId
    sequence: int
    turn: int
    supersedes: FactId | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class OrderSet(Fact):
    """All of a faction's orders for a turn; the last set before the reveal counts. A force without an order holds.

    `importance` are forces in the order they are to be fed; those left out come after them, all alike.
    """

    faction: str
    orders: tuple[Order, ...] = ()
    importance: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class TurnSeed(Fact):
    """The seed of a turn's dice: `commitment` (its SHA-256) is shown before the orders are in, `seed` (64 hexadecimal
    digits) told after the turn; empty while it is still kept. Telling it is a second fact that supersedes the first."""

    commitment: str
    seed: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Revealed(Fact):
    """The turn's orders are carried out: all are in, or the deadline has passed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ForceOutcome:
    """How one force came out of a battle. No `supply_used` (in loads): by the campaign's rules. `fielded`: the units
    that took the field; empty means every unit that could."""

    force: str
    casualties: tuple[Casualty, ...] = ()
    fielded: frozenset[UnitId] = frozenset()
    supply_used: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Laws:
    """What a battle was simulated by, in thousandths: see `league.engines.attrition.Fit`. As it stands here: the
    default. `reports` is how many battles it was learnt from."""

    numbers_x1000: int = 0
    quality_x1000: int = 1000
    defence_x1000: int = 0
    breaks_at_x1000: int = 400
    reports: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class BattleOutcome(Fact):
    """How a battle of this turn ended. `battle` is the id the fold gave it; `winner` a faction of the winning side,
    empty for a draw. No `captured`: what the taker gets of the stock there is by the rules. `source` says how it was
    come by; one `simulated` was drawn from the seed of its turn under `label`, by `laws`. `reference` is the caller's name for the
    report."""

    battle: str
    winner: str = ""
    forces: tuple[ForceOutcome, ...] = ()
    captured: int | None = None
    source: Source = "report"
    label: str = ""
    laws: Laws | None = None
    reference: str = ""
    reason: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Postponed(Fact):
    """A battle is put off to the next turn; both sides stay locked in it. So is one nobody speaks of when its turn
    is closed."""

    battle: str
    reason: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Roll(Fact):
    """Dice the fold asked for by `label`: thrown on the table and typed in, or drawn from the turn's seed."""

    label: str
    sides: int
    results: tuple[int, ...]
    thrown: Literal["table", "drawn"] = "table"


@dataclass(frozen=True, kw_only=True, slots=True)
class OutsideBattle(Fact):
    """A battle a force's roster fought outside the war, before this turn's reveal; its scars come along."""

    force: str
    engagement: Engagement


@dataclass(frozen=True, kw_only=True, slots=True)
class Closed(Fact):
    """The turn is over: aftermath, points, and the next turn's orders begin."""


# What an umpire may change. The changes of a fact happen together, in order.


@dataclass(frozen=True, kw_only=True, slots=True)
class SetControl:
    """An empty `faction`: nobody holds it."""

    region: str
    faction: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlaceForce:
    force: str
    region: str


@dataclass(frozen=True, kw_only=True, slots=True)
class RemoveForce:
    force: str


@dataclass(frozen=True, kw_only=True, slots=True)
class RaiseForce:
    """A new force enters the war."""

    force: Force


@dataclass(frozen=True, kw_only=True, slots=True)
class AddDepot:
    region: str
    faction: str


@dataclass(frozen=True, kw_only=True, slots=True)
class DropDepot:
    """The depot goes, and what it holds goes with it unless a source there keeps it."""

    region: str


@dataclass(frozen=True, kw_only=True, slots=True)
class GrantStock:
    """`amount` loads more; below 0 fewer, as far as there are any."""

    region: str
    faction: str
    amount: int


@dataclass(frozen=True, kw_only=True, slots=True)
class AwardPoints:
    faction: str
    points: int


Effect = SetControl | PlaceForce | RemoveForce | RaiseForce | AddDepot | DropDepot | GrantStock | AwardPoints


@dataclass(frozen=True, kw_only=True, slots=True)
class Ruling(Fact):
    """The umpire's word. It acts before the turn's reveal (`phase` `orders`) or at its end (`aftermath`)."""

    reason: str
    effects: tuple[Effect, ...] = ()
    phase: Literal["orders", "aftermath"] = "aftermath"


@dataclass(frozen=True, kw_only=True, slots=True)
class Settlement(Ruling):
    """What is booked now in place of replaying the war: `outcome` is the old battle outcome that stays as it was
    although `reference`, a later report, says otherwise."""

    outcome: FactId
    reference: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class MapEdited(Fact):
    """From this turn's orders on the war is fought on another map; `effects` say what becomes of what stood where no
    region is left."""

    map: Map
    effects: tuple[Effect, ...] = ()
    reason: str = ""


def in_force(facts: Iterable[Fact]) -> tuple[Fact, ...]:
    """The facts that count, in order: what was superseded is left out, what superseded it stands in its place."""
    listed = sorted(facts, key=lambda each: each.sequence)
    place: dict[FactId, int] = {}
    for each in listed:
        place[each.id] = place.get(each.supersedes, each.sequence) if each.supersedes is not None else each.sequence
    replaced = {each.supersedes for each in listed}
    return tuple(sorted((each for each in listed if each.id not in replaced), key=lambda each: place[each.id]))
