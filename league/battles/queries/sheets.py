"""What a report's form is made of: the sides, what each can score, the units that stood there and how strong."""

from __future__ import annotations

from dataclasses import dataclass, field

from league.battles.models import Game, Report
from league.battles.queries.forces import ForceUnit, force_of
from league.battles.queries.sides import sides_of
from league.engines.rulesets import Objective, Scenario
from league.rosters.models import Casualty
from league.rulesets.queries import rules_of

__all__ = ["Sheet", "SheetSide", "WrittenLine", "WrittenSide", "sheet_of", "written_in"]


@dataclass(frozen=True, kw_only=True, slots=True)
class SheetSide:
    position: int
    names: tuple[str, ...]
    role: str
    roster: str
    units: tuple[ForceUnit, ...]

    @property
    def named(self) -> str:
        return ", ".join(self.names)


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """An empty form for one game."""

    game: Game
    scenario: Scenario | None
    sides: tuple[SheetSide, ...]

    @property
    def objectives(self) -> tuple[Objective, ...]:
        return self.scenario.objectives if self.scenario else ()


@dataclass(frozen=True, kw_only=True, slots=True)
class WrittenLine:
    unit_id: int
    figures_lost: int
    destroyed: bool
    routed: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class WrittenSide:
    score: int | None
    conceded: bool
    objectives: dict[str, int] = field(default_factory=dict)
    lines: tuple[WrittenLine, ...] = ()


def sheet_of(game: Game) -> Sheet:
    """The form for a game: every unit of each roster, as it stood when the game began or stands now before it."""
    rules = rules_of(game.edition)
    scenario = rules.scenario(game.scenario) if game.scenario else None
    roles = {side.key: side.name for side in scenario.sides} if scenario else {}
    return Sheet(
        game=game,
        scenario=scenario,
        sides=tuple(
            SheetSide(
                position=side.position,
                names=tuple(player.member.name for player in side.players.all()),
                role=roles.get(side.role, ""),
                roster=side.roster.name if side.roster else "",
                units=force_of(side, rules),
            )
            for side in sides_of(game)
        ),
    )


def written_in(report: Report) -> dict[int, WrittenSide]:
    """What a report says of each side, by position, for a correction that begins from it."""
    casualties: dict[int, list[WrittenLine]] = {}
    for row in Casualty.objects.filter(engagement__result__report=report).order_by("pk"):
        casualties.setdefault(row.engagement_id, []).append(
            WrittenLine(unit_id=row.unit_id, figures_lost=row.figures_lost, destroyed=row.destroyed, routed=row.routed)
        )
    return {
        result.side.position: WrittenSide(
            score=result.score,
            conceded=result.conceded,
            objectives={count.objective: count.count for count in result.objectives.all()},
            lines=tuple(casualties.get(result.engagement_id or 0, ())),
        )
        for result in report.results.select_related("side").prefetch_related("objectives")
    }
