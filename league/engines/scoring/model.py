"""A game's report as the engine is told it, and what it comes to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from league.engines.rulesets import UnitId, Violation

Outcome = Literal["win", "draw", "loss"]


@dataclass(frozen=True, kw_only=True, slots=True)
class SideClaim:
    """What a report says of one side: a score, or how often it reached each objective (by key), or both."""

    position: int
    score: int | None = None
    objectives: Mapping[str, int] | None = None
    conceded: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class SideScore:
    """One side's result. `score` is None only where a concession decided and nobody wrote a score down."""

    position: int
    score: int | None
    outcome: Outcome


class ImpossibleScore(ValueError):
    """The report cannot be; `violations` are all the reasons, `place` of each names the side (`sides[2]`)."""

    def __init__(self, violations: tuple[Violation, ...]) -> None:
        self.violations = violations
        super().__init__("; ".join(each.text for each in violations))


@dataclass(frozen=True, kw_only=True, slots=True)
class FieldedUnit:
    """A unit as it was when the game began. `figures` is its establishment, which its points were paid for."""

    id: UnitId
    points: int
    figures: int


@dataclass(frozen=True, kw_only=True, slots=True)
class UnitLoss:
    unit_id: UnitId
    figures_lost: int = 0
    destroyed: bool = False
