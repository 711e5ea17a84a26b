"""The war at one turn: what the fold gives, with a reason for everything that changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Literal

from league.engines.maps import Map
from league.engines.rulesets import UnitId
from league.engines.strength import Muster, RosterUnit, UnitState
from league.engines.supply import Distribution
from league.engines.war.model import BattleOutcome, FactId, OrderSet
from league.engines.war.rules import Condition

__all__ = [
    "Battle",
    "BattleSide",
    "Change",
    "Ended",
    "Entry",
    "ForceState",
    "Gone",
    "Kind",
    "Known",
    "Phase",
    "Role",
    "RollNeeded",
    "TurnState",
]

Phase = Literal["orders", "battles", "closed"]
Gone = Literal["", "surrendered", "destroyed", "removed"]
Role = Literal["attacker", "defender", "meeting"]
Kind = Literal["opening", "produced", "moved", "used", "fought", "spent", "captured", "spoilt", "settled"]
# Who may know of a change: all; whoever sees the region; the side it concerns; the umpire alone.
Known = Literal["all", "region", "side", "umpire"]

NOTHING: Mapping[str, Any] = MappingProxyType({})


@dataclass(frozen=True, kw_only=True, slots=True)
class ForceState:
    """A force as it stands. `road`: it met an enemy there on its way out of `region`. `came_from`: the region it was
    in before its last step this turn. `battle`: the one it is locked in. `gone`: why it is no longer on the map."""

    key: str
    name: str
    faction: str
    region: str
    units: tuple[RosterUnit, ...]
    states: Mapping[UnitId, UnitState] = field(hash=False)
    need: int = 0
    pace: int = 1
    dug_in: bool = False
    condition: Condition = "supplied"
    road: str = ""
    came_from: str = ""
    battle: str = ""
    gone: Gone = ""

    @property
    def present(self) -> int:
        """Figures that can take the field."""
        return sum(each.present for each in self.states.values())

    @property
    def lost(self) -> int:
        """Figures gone for good."""
        return sum(each.lost for each in self.states.values())


@dataclass(frozen=True, kw_only=True, slots=True)
class BattleSide:
    role: Role
    factions: tuple[str, ...]
    forces: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Battle:
    """A game the map asks for. `turn` is when it began, `region` where it is fought, `road` the road where two met on
    it. The attacker comes first; where nobody defends, the order is by lot once `rolled`. `scenarios` of the ruleset
    suit its `terrain`, the best first. `outcome` is None until somebody reports it."""

    id: str
    turn: int
    region: str
    road: str = ""
    terrain: str
    sides: tuple[BattleSide, ...]
    scenarios: tuple[str, ...] = ()
    rolled: bool = True
    outcome: BattleOutcome | None = None
    postponed: bool = False

    @property
    def forces(self) -> tuple[str, ...]:
        return tuple(force for side in self.sides for force in side.forces)

    @property
    def factions(self) -> tuple[str, ...]:
        return tuple(faction for side in self.sides for faction in side.factions)


@dataclass(frozen=True, kw_only=True, slots=True)
class Entry:
    """One line of the book of stocks, in hundredths of a load. `about` names the force, battle or region it is for.

    `moved` and `captured` come in pairs that cancel out; `opening`, `produced` and `settled` bring supply into the
    war, the others take it out of it.
    """

    turn: int
    kind: Kind
    region: str
    faction: str
    amount_x100: int
    about: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """One thing that happened, as a message and its values (`league.engines.war.chronicle` has the words).

    `args` name regions, forces, factions and units by their keys. `because` are the facts it rests on; `region` where
    it happened, `faction` whom it concerns, `force` whom of theirs.
    """

    turn: int
    what: str
    known: Known
    args: Mapping[str, Any] = field(default_factory=lambda: NOTHING, hash=False)
    region: str = ""
    faction: str = ""
    force: str = ""
    because: tuple[FactId, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class RollNeeded:
    """`count` dice of `sides` sides the fold waits for, to be given as a `Roll` of this label."""

    label: str
    count: int
    sides: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Ended:
    """Why the war is over, and who won it; several who share the victory, nobody if `winners` is empty."""

    reason: Literal["last_turn", "points", "strongholds", "last_side"]
    winners: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class TurnState:
    """The war at a turn; turn 0 is how it began.

    `orders`: before the reveal, the turn is being planned; `battles`: revealed and supplied, battles are being fought;
    `closed`: all of it is over. `entries` and `changes` are those of this turn only. `balances` are hundredths of a
    load by region and faction: always the sum of all entries so far. `orders` are the sets that were carried out.
    `musters` are recruits and the hungry who left, by force; they belong on the record of its roster.
    """

    turn: int
    phase: Phase
    map: Map
    control: Mapping[str, str] = field(hash=False)
    forces: Mapping[str, ForceState] = field(hash=False)
    depots: Mapping[str, str] = field(hash=False)
    balances: Mapping[tuple[str, str], int] = field(hash=False)
    points: Mapping[str, int] = field(hash=False)
    battles: tuple[Battle, ...] = ()
    supply: Mapping[str, Distribution] = field(default_factory=dict, hash=False)
    orders: Mapping[str, OrderSet] = field(default_factory=dict, hash=False)
    entries: tuple[Entry, ...] = ()
    changes: tuple[Change, ...] = ()
    rolls_needed: tuple[RollNeeded, ...] = ()
    musters: tuple[tuple[str, Muster], ...] = ()
    ended: Ended | None = None

    def battle(self, key: str) -> Battle | None:
        return next((each for each in self.battles if each.id == key), None)

    @property
    def standing(self) -> tuple[ForceState, ...]:
        """The forces still on the map."""
        return tuple(each for each in self.forces.values() if not each.gone)

    @property
    def contested(self) -> frozenset[str]:
        """Regions where a battle is being fought, or is to be."""
        return frozenset(each.region for each in self.battles if not each.road and each.outcome is None)
