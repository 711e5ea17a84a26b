"""A club's game system as values: what its document says, checked and frozen.

These types are the shared vocabulary of the engines that apply a ruleset (legality, fates, strength, scoring, roster
text). They answer questions about themselves; they decide nothing about a battle.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from league.engines.rulesets.dice import DieReading, die_reading
from league.engines.rulesets.kit import Kit

FORMAT = "drumhead ruleset 1"

Fate = Literal["back", "out", "lost"]
RollFor = Literal["figure", "unit"]
DestroyedPoints = Literal["destroyed", "proportional"]
BonusKind = Literal["margin", "narrow_loss", "count_at_least", "clean_sweep"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Quality:
    """How good a unit is; what that means at the table is the club's business."""

    key: str
    name: str


@dataclass(frozen=True, kw_only=True, slots=True)
class UnitClass:
    """A kind of unit, with the least and the most figures one may have."""

    key: str
    name: str
    figures_least: int
    figures_most: int


@dataclass(frozen=True, kw_only=True, slots=True)
class PointsCap:
    """A roster's points together are at most `most`."""

    most: int


@dataclass(frozen=True, kw_only=True, slots=True)
class UnitCount:
    """A roster has at least `least` units and at most `most` (None: any number)."""

    least: int = 0
    most: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class ClassCount:
    """A roster has at least `least` units of a class and at most `most` (None: any number)."""

    unit_class: str
    least: int = 0
    most: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class ClassShare:
    """Units of a class make up at most `most_percent` of a roster's points."""

    unit_class: str
    most_percent: int


Limit = PointsCap | UnitCount | ClassCount | ClassShare


@dataclass(frozen=True, kw_only=True, slots=True)
class Outcome:
    """One line of a casualty table: rolls `first` to `last` mean `fate`; `games` is how many an `out` misses."""

    first: int
    last: int
    fate: Fate
    games: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class CasualtyTable:
    """What becomes of those lost in battle.

    `roll_for` `figure`: one die for each figure lost; `unit`: one die for all that a unit lost. Empty `classes` or
    `qualities` mean any. Every reading of the die has exactly one outcome.
    """

    key: str
    name: str
    roll_for: RollFor
    die: int
    classes: tuple[str, ...] = ()
    qualities: tuple[str, ...] = ()
    outcomes: tuple[Outcome, ...]

    @property
    def reading(self) -> DieReading:
        return die_reading(self.die)

    def speaks_of(self, unit_class: str, quality: str) -> bool:
        return (not self.classes or unit_class in self.classes) and (not self.qualities or quality in self.qualities)

    def rolls_for(self, figures_lost: int) -> int:
        """How many dice decide the fate of `figures_lost` figures of one unit in one battle."""
        return figures_lost if self.roll_for == "figure" else min(figures_lost, 1)

    def outcome_of(self, rolled: int) -> Outcome:
        """The line that answers a roll as it shows on the thrown die. ValueError if the die has no such face."""
        reading = self.reading.read(rolled)
        return next(outcome for outcome in self.outcomes if outcome.first <= reading <= outcome.last)


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """The name a unit bears from `at` experience on."""

    at: int
    name: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Experience:
    """What a unit that took the field gains: `per_game`, and on top of it `per_win` or `per_draw`."""

    per_game: int = 0
    per_win: int = 0
    per_draw: int = 0
    steps: tuple[Step, ...] = ()

    def step_at(self, experience: int) -> str:
        """The name of the highest step reached, empty before the first."""
        reached = [step.name for step in self.steps if step.at <= experience]
        return reached[-1] if reached else ""


@dataclass(frozen=True, kw_only=True, slots=True)
class ScenarioSide:
    key: str
    name: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Objective:
    """Something a side scores `points` for each time, at most `most` times (None: any number).

    `shared`: there are only `most` of them for all sides together (a bridge can be held once); otherwise each side
    may reach `most` by itself.
    """

    key: str
    name: str
    points: int
    most: int | None = None
    shared: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class TableSize:
    width_mm: int
    depth_mm: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Scenario:
    """One way to fight a game: two or more sides, what they score for, and how close a result is a draw.

    `score_most`: no side's score is above it. `draw_margin`: sides no further than this behind the best share a draw
    with it. `rounds_most` None: no limit. `table` None: any table.
    """

    key: str
    name: str
    summary: str = ""
    sides: tuple[ScenarioSide, ...]
    rounds_most: int | None = None
    objectives: tuple[Objective, ...] = ()
    score_most: int | None = None
    draw_margin: int = 0
    table: TableSize | None = None

    def objective(self, key: str) -> Objective | None:
        return next((each for each in self.objectives if each.key == key), None)


@dataclass(frozen=True, kw_only=True, slots=True)
class Bonus:
    """Extra points of a season, in half-points; the kinds and fields are those of the standings engine.

    `margin`: won by at least `threshold`; `narrow_loss`: lost by at most `threshold`; `count_at_least`: the reported
    `count` reached `threshold`; `clean_sweep`: won every game of a season of at least `threshold` games.
    """

    kind: BonusKind
    points_x2: int
    threshold: int = 1
    count: str = ""
    name: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Scoring:
    """How games of this ruleset score in a season unless the season says otherwise; half-points.

    `tie_breaks` are names of the standings engine in order of use; `count_total:flags` sums the count `flags`.
    """

    win_x2: int = 2
    draw_x2: int = 1
    loss_x2: int = 0
    bye_x2: int = 2
    forfeit_win_x2: int = 2
    forfeit_loss_x2: int = 0
    absent_x2: int = 0
    showing_up_x2: int = 0
    bonuses: tuple[Bonus, ...] = ()
    tie_breaks: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Ruleset:
    """A whole game system.

    `destroyed_points`: what a beaten unit is worth to the enemy. `destroyed`: its points when destroyed, nothing when
    only damaged; `proportional`: a damaged unit counts its points x figures lost / figures, rounded down.
    """

    name: str
    summary: str = ""
    qualities: tuple[Quality, ...] = ()
    unit_classes: tuple[UnitClass, ...]
    limits: tuple[Limit, ...] = ()
    casualty_tables: tuple[CasualtyTable, ...] = ()
    experience: Experience = Experience()
    scenarios: tuple[Scenario, ...] = ()
    scoring: Scoring = Scoring()
    destroyed_points: DestroyedPoints = "destroyed"
    kit: Kit = field(default_factory=Kit)

    def unit_class(self, key: str) -> UnitClass | None:
        return next((each for each in self.unit_classes if each.key == key), None)

    def quality(self, key: str) -> Quality | None:
        return next((each for each in self.qualities if each.key == key), None)

    def scenario(self, key: str) -> Scenario | None:
        return next((each for each in self.scenarios if each.key == key), None)

    def table_for(self, unit_class: str, quality: str = "") -> CasualtyTable | None:
        """The first casualty table that speaks of such a unit. None: whoever falls is back for the next game."""
        return next((each for each in self.casualty_tables if each.speaks_of(unit_class, quality)), None)
