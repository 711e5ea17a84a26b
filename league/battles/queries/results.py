"""How games ended, for whoever counts them: the last word on each, in a constant number of queries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from league.battles.models import Game, ObjectiveCount, Report, SidePlayer, SideResult

__all__ = ["GameResult", "SideOutcome", "results_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class SideOutcome:
    """One side's part in a result. `outcome` is win, draw or loss; `score` is None where none was kept.

    `objectives` is how many objectives the side reached in all, `counts` how often each, by its key.
    """

    position: int
    member_ids: tuple[int, ...]
    score: int | None
    outcome: str
    conceded: bool
    objectives: int
    value_destroyed: int
    value_lost: int
    counts: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class GameResult:
    """The last word on one game. `state` is a `ReportState`; whether it counts is for the caller to say."""

    game_id: int
    report_id: int
    state: str
    fought_on: date
    filed_at: datetime
    sides: tuple[SideOutcome, ...]


def results_of(games: Iterable[Game]) -> dict[int, GameResult]:
    """The result of each game that has a report, by the game's number; four queries however many games.

    A queryset is used as a subquery; anything else is read for the numbers of its games.
    """
    reports = Report.objects.filter(game__in=games).current().with_state()
    filed = {
        row["pk"]: row
        for row in reports.values("pk", "game_id", "state", "fought_on", "filed_at").order_by("game_id")  # type: ignore[misc]
    }
    if not filed:
        return {}
    current = Report.objects.filter(game__in=games).current().values("pk")
    players = players_by_side(games)
    counts: defaultdict[int, dict[str, int]] = defaultdict(dict)
    for result_id, objective, count in (
        ObjectiveCount.objects.filter(result__report__in=current)
        .order_by("objective")
        .values_list("result_id", "objective", "count")
    ):
        counts[result_id][objective] = count
    sides: defaultdict[int, list[SideOutcome]] = defaultdict(list)
    # Plain values: a club's every game goes through here, and rows cost several times as much.
    for pk, report_id, side_id, position, score, outcome, conceded, destroyed, lost in (
        SideResult.objects.filter(report__in=current)
        .order_by("report_id", "side__position")
        .values_list(
            "pk",
            "report_id",
            "side_id",
            "side__position",
            "score",
            "outcome",
            "conceded",
            "value_destroyed",
            "value_lost",
        )
    ):
        reached = counts.get(pk, {})
        sides[report_id].append(
            SideOutcome(
                position=position,
                member_ids=players.get(side_id, ()),
                score=score,
                outcome=outcome,
                conceded=conceded,
                objectives=sum(reached.values()),
                value_destroyed=destroyed,
                value_lost=lost,
                counts=reached,
            )
        )
    return {
        row["game_id"]: GameResult(
            game_id=row["game_id"],
            report_id=report_id,
            state=row["state"],
            fought_on=row["fought_on"],
            filed_at=row["filed_at"],
            sides=tuple(sides[report_id]),
        )
        for report_id, row in filed.items()
    }


def players_by_side(games: Iterable[Game]) -> dict[int, tuple[int, ...]]:
    members: defaultdict[int, list[int]] = defaultdict(list)
    rows = SidePlayer.objects.filter(game__in=games).order_by("pk").values_list("side_id", "member_id")
    for side_id, member_id in rows:
        members[side_id].append(member_id)
    return {side_id: tuple(ids) for side_id, ids in members.items()}
