"""A campaign's rules as data: what the umpire chose before the war, beside the ruleset the battles are fought by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = [
    "USUAL",
    "Condition",
    "Fog",
    "Ground",
    "Hardship",
    "Price",
    "Rules",
    "Sight",
    "Spectators",
    "Victory",
    "Worth",
]

Condition = Literal["supplied", "short", "cut_off"]
"""How a force came out of a turn's supply: its whole need, some of it, or no way by which any could have come."""

Sight = Literal["presence", "size", "units"]
"""How much scouts tell of a foreign force: that it is there; about how many; its units as they stand."""

Spectators = Literal["nothing", "revealed", "everything"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Hardship:
    """What a condition costs a force, each turn it lasts.

    `lost_percent` of each unit's present figures leave for good (rounded down); `effect_percent` is what its fighting
    power is worth in a simulated battle; `may_move` and `may_rebuild` say which orders it can still carry out.
    """

    lost_percent: int = 0
    effect_percent: int = 100
    may_move: bool = True
    may_rebuild: bool = True


@dataclass(frozen=True, kw_only=True, slots=True)
class Price:
    """What one replacement costs in hundredths of a load; empty class or quality mean any. The first that fits."""

    unit_class: str = ""
    quality: str = ""
    per_figure_x100: int = 100


@dataclass(frozen=True, kw_only=True, slots=True)
class Worth:
    """What a figure of such a unit is worth in a simulated battle, in hundredths of an ordinary one.

    Every entry that fits a unit by its class, its quality and the name of its step of experience multiplies; an empty
    field means any.
    """

    unit_class: str = ""
    quality: str = ""
    step: str = ""
    percent: int = 100


@dataclass(frozen=True, kw_only=True, slots=True)
class Ground:
    """What a terrain means: the scenarios fought there, best suited first, and what it is worth to a defender.

    `defence_percent` multiplies the defender's fighting power in a simulated battle; `law` is which of Lanchester's
    laws holds there: `square` where all can shoot at all, `linear` where they meet man to man. `depot`: whether
    one may be built. `meeting` are the scenarios for a battle without a defender; empty: those of `scenarios`.
    """

    terrain: str
    scenarios: tuple[str, ...] = ()
    meeting: tuple[str, ...] = ()
    defence_percent: int = 100
    law: Literal["square", "linear"] = "square"
    depot: bool = True


@dataclass(frozen=True, kw_only=True, slots=True)
class Fog:
    """What is seen. Own forces, depots and stocks always; beyond them, what this says.

    `from_regions`, `from_forces`: how many roads far one sees from a region one holds, and from a force; 0 is the
    region itself. `sight`: what is told of a foreign force that is seen. `control`, `battles`: whether who holds a
    region, and that a battle took place and who won it, is known to `all`, or only where one `seen` it.
    `spectators` are shown `nothing`, what `revealed` for all, or `everything`; `late` is by how many turns.
    """

    from_regions: int = 1
    from_forces: int = 1
    sight: Sight = "size"
    control: Literal["all", "seen"] = "all"
    battles: Literal["all", "seen"] = "all"
    spectators: Spectators = "revealed"
    late: int = 1


@dataclass(frozen=True, kw_only=True, slots=True)
class Victory:
    """Points a turn and what ends the war.

    Each turn a faction gets `per_worth` for each point of worth of its regions and `per_stronghold` for each of its
    strongholds; `per_battle` for a battle won and `per_surrender` for an enemy force that gave up. The war is over
    after turn `last_turn`, when a faction reached `points`, or when one side holds every stronghold (`strongholds`);
    None and False: never for this reason. It is over as well when one side alone has any force left.
    """

    per_worth: int = 1
    per_stronghold: int = 0
    per_battle: int = 0
    per_surrender: int = 0
    last_turn: int | None = None
    points: int | None = None
    strongholds: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Rules:
    """Everything the umpire chose.

    Amounts of supply are whole loads unless they end in `_x100`, which are hundredths of a load.

    `short`, `cut_off`: what these conditions cost. `prices`: replacements. `rebuild_at`: where they may join a force:
    `anywhere`, in a region of one's own (`held`), or at a depot or source (`stocked`). `depot_price` is spent on a
    new depot, which holds up to `depot_holds`; `source_holds` is what a source of supply keeps without one; what is
    over spoils. `depots_most`: how many depots a faction may have. `battle_use_percent`: what a battle uses of
    each force's need, on top of it, unless its report says otherwise. `captured_percent`: what the taker of a region
    gets of the stock there; the rest spoils. `retreat_most`: how many roads far a beaten force may go to find a
    supplied region of its own; further means surrender. `drawn`: after a drawn battle the `attacker` leaves, or
    `both` stay and fight on. `dug_in_percent`: what entrenchments multiply a defender's fighting power by. A battle on a road is fought on the
    ground named after the road's kind.
    """

    short: Hardship = Hardship(effect_percent=80)
    cut_off: Hardship = Hardship(lost_percent=5, effect_percent=50, may_rebuild=False)
    prices: tuple[Price, ...] = (Price(),)
    rebuild_at: Literal["anywhere", "held", "stocked"] = "held"
    depot_price: int = 0
    depot_holds: int | None = None
    source_holds: int | None = None
    depots_most: int | None = None
    battle_use_percent: int = 0
    captured_percent: int = 50
    retreat_most: int = 3
    drawn: Literal["attacker", "both"] = "attacker"
    dug_in_percent: int = 125
    grounds: tuple[Ground, ...] = ()
    worths: tuple[Worth, ...] = ()
    fog: Fog = Fog()
    victory: Victory = Victory()

    def hardship(self, condition: Condition) -> Hardship:
        if condition == "supplied":
            return Hardship()
        return self.short if condition == "short" else self.cut_off

    def ground(self, terrain: str) -> Ground:
        """What the rules say of a terrain; of one they do not name, what is usual."""
        return next((each for each in self.grounds if each.terrain == terrain), Ground(terrain=terrain))

    def power_percent(self, unit_class: str, quality: str, step: str) -> float:
        """What a figure of such a unit is worth in a simulated battle."""
        power = 100.0
        for each in self.worths:
            if each.unit_class in ("", unit_class) and each.quality in ("", quality) and each.step in ("", step):
                power *= each.percent / 100
        return power

    def price_x100(self, unit_class: str, quality: str) -> int | None:
        """What one figure costs, in hundredths of a load. None: there are no replacements for such a unit."""
        fitting = (
            each.per_figure_x100
            for each in self.prices
            if each.unit_class in ("", unit_class) and each.quality in ("", quality)
        )
        return next(fitting, None)


USUAL = Rules()
