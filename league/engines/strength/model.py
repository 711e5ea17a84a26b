"""What the strength of a roster is folded from, and what comes out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from league.engines.rulesets import Ruleset, UnitId

Outcome = Literal["win", "draw", "loss"]
What = Literal[
    "fielded",
    "destroyed",
    "routed",
    "back",
    "out",
    "lost",
    "awaiting_dice",
    "unit_out",
    "unit_gone",
    "returned",
    "overstated",
    "could_not_field",
    "joined",
    "left",
]


@dataclass(frozen=True, kw_only=True, slots=True)
class RosterUnit:
    """A unit as its owner wrote it down. `figures` is its establishment: its strength before any battle."""

    id: UnitId
    unit_class: str
    quality: str = ""
    figures: int
    points: int = 0


NOT_LISTED: Mapping[UnitId, RosterUnit] = MappingProxyType({})


@dataclass(frozen=True, kw_only=True, slots=True)
class Casualty:
    """What one unit lost in one battle.

    `destroyed`: every figure that stood was lost; `figures_lost` is then the strength it stood at. `rolls` are the
    dice as they showed on the table, one for each roll the ruleset asks for; None: not thrown yet.
    """

    unit_id: UnitId
    figures_lost: int = 0
    destroyed: bool = False
    routed: bool = False
    rolls: tuple[int, ...] | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Engagement:
    """A roster's part in one battle. `sequence` orders a roster's engagements and is unique among them.

    `fielded` are the units that took the field; a unit with a casualty line took it too. `listed` are units as they
    were written down that day, where their class or quality may differ from today's: a unit promoted since keeps the
    fates its dice gave it then. `ruleset` is the edition the battle was fought by, where that differs from today's.
    """

    id: UnitId
    sequence: int
    outcome: Outcome | None = None
    casualties: tuple[Casualty, ...] = ()
    fielded: frozenset[UnitId] = frozenset()
    listed: Mapping[UnitId, RosterUnit] = field(default_factory=lambda: NOT_LISTED, hash=False)
    ruleset: Ruleset | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Muster:
    """What the roll-call between two battles found: `joined` recruits, and `left` figures gone for good without a
    fight. `sequence` shares the order of the roster's engagements.

    Recruits have seen nothing yet: the unit's experience is shared out among all, rounded down.
    """

    id: UnitId
    sequence: int
    unit_id: UnitId
    joined: int = 0
    left: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Recovery:
    """Figures that miss the roster's next `games_left` battles and then return."""

    figures: int
    games_left: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """One thing an engagement did to a unit: `figures` came `back`, are `out` for `games`, are `lost`, `returned`.

    `could_not_field`: the report has the unit on the field, but nobody of it stood; it changes nothing.
    `overstated`: the report claims `figures` more than stood there, which a later correction of an earlier report can
    bring about; they are left out of the count. `experience` is what a `fielded` unit gained, or below 0 what it lost
    when recruits `joined`. `table` is the key of the casualty table that decided, `rolls` the dice it was decided by.
    Of a muster, `engagement_id` is the muster's.
    """

    engagement_id: UnitId
    what: What
    figures: int = 0
    games: int = 0
    experience: int = 0
    table: str = ""
    rolls: tuple[int, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class UnitState:
    """A unit after some engagements. Always: establishment = present + recovering + lost + awaiting_dice."""

    unit_id: UnitId
    establishment: int
    present: int
    recovering: tuple[Recovery, ...] = ()
    lost: int = 0
    awaiting_dice: int = 0
    experience: int = 0
    step: str = ""
    games: int = 0
    wins: int = 0
    draws: int = 0
    losses: int = 0
    figures_lost_total: int = 0
    times_destroyed: int = 0
    times_routed: int = 0
    reasons: tuple[Change, ...] = field(default=())

    @property
    def gone(self) -> bool:
        """Nobody is left and nobody will return."""
        return self.lost == self.establishment

    @property
    def out(self) -> bool:
        """The unit cannot take the field: it is gone, recovering as a whole, or its dice are not thrown yet."""
        return self.present == 0

    @property
    def out_games_left(self) -> int | None:
        """How many battles the unit misses before its first figures return. None: it is not out, or nobody knows."""
        if self.present or not self.recovering:
            return None
        return self.recovering[0].games_left

    @property
    def recovering_figures(self) -> int:
        return sum(each.figures for each in self.recovering)
