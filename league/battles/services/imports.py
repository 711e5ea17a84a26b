"""Games that were fought and reported elsewhere, taken in with a season's file: many rows, few queries."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from django.utils.translation import gettext as _

from league.battles.models import (
    Answer,
    Game,
    ObjectiveCount,
    Report,
    ReportState,
    Ruling,
    Side,
    SidePlayer,
    SideResult,
)
from league.battles.services.games import new_seed
from league.clubs.models import Club, Member
from league.rulesets.models import Edition

__all__ = ["ImportedGame", "ImportedSide", "import_games"]

NO_REPORT = "none"


@dataclass(frozen=True, kw_only=True, slots=True)
class ImportedSide:
    """One side as the file tells it; `outcome` is empty where the game has no report."""

    member_ids: Sequence[int]
    score: int | None = None
    outcome: str = ""
    conceded: bool = False
    value_destroyed: int = 0
    value_lost: int = 0
    counts: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class ImportedGame:
    """One game as the file tells it; `state` is a `ReportState`, or "none" where there is no report yet."""

    on: date
    sides: Sequence[ImportedSide]
    scenario: str = ""
    state: str = NO_REPORT


def import_games(
    club: Club, *, edition: Edition, games: Sequence[ImportedGame], by: Member, at: datetime
) -> list[Game]:
    """Make rows of the games, in their order; nine queries however many. They belong to no roster.

    Called inside the transaction of a season's import, whose checks the games have passed. What the file says of
    answers and rulings is written down as said by whoever imports it.
    """
    rows = Game.objects.bulk_create(
        Game(
            club=club,
            edition=edition,
            scenario=told.scenario,
            on=told.on,
            created_by=by,
            created_at=at,
            started_at=None if told.state == NO_REPORT else at,
            **new_seed(),
        )
        for told in games
    )
    sides = import_sides(rows, games)
    reports = Report.objects.bulk_create(
        Report(game=row, fought_on=told.on, filed_by=by, filed_at=at)
        for row, told in zip(rows, games, strict=True)
        if told.state != NO_REPORT
    )
    import_results({report.game_id: report for report in reports}, sides)
    reported = [told for told in games if told.state != NO_REPORT]
    import_words(list(zip(reports, reported, strict=True)), by=by, at=at)
    return rows


def import_sides(rows: Sequence[Game], games: Sequence[ImportedGame]) -> list[tuple[Side, ImportedSide]]:
    told = [
        (row, position, side)
        for row, game in zip(rows, games, strict=True)
        for position, side in enumerate(game.sides, start=1)
    ]
    made = Side.objects.bulk_create(Side(game=row, position=position) for row, position, _side in told)
    SidePlayer.objects.bulk_create(
        SidePlayer(game=row, side=made_side, member_id=member_id)
        for made_side, (row, _position, side) in zip(made, told, strict=True)
        for member_id in side.member_ids
    )
    return [(made_side, side) for made_side, (_row, _position, side) in zip(made, told, strict=True)]


def import_results(reports: Mapping[int, Report], sides: Sequence[tuple[Side, ImportedSide]]) -> None:
    reported = [(side, told) for side, told in sides if side.game_id in reports]
    results = SideResult.objects.bulk_create(
        SideResult(
            report=reports[side.game_id],
            side=side,
            score=told.score,
            conceded=told.conceded,
            outcome=told.outcome,
            value_destroyed=told.value_destroyed,
            value_lost=told.value_lost,
        )
        for side, told in reported
    )
    ObjectiveCount.objects.bulk_create(
        ObjectiveCount(result=result, objective=objective, count=count)
        for result, (_side, told) in zip(results, reported, strict=True)
        for objective, count in told.counts.items()
    )


def import_words(reported: Sequence[tuple[Report, ImportedGame]], *, by: Member, at: datetime) -> None:
    """The answers and rulings that give each report the state the file tells."""
    words = _("So the imported file says.")
    verdicts = {ReportState.CONFIRMED: Answer.Verdict.CONFIRMED, ReportState.DISPUTED: Answer.Verdict.DISPUTED}
    Answer.objects.bulk_create(
        Answer(report=report, member=by, verdict=verdicts[ReportState(told.state)], text=words, at=at)
        for report, told in reported
        if told.state in verdicts
    )
    rulings = {ReportState.SETTLED: Ruling.Verdict.STANDS, ReportState.VOID: Ruling.Verdict.VOID}
    Ruling.objects.bulk_create(
        Ruling(report=report, verdict=rulings[ReportState(told.state)], text=words, by=by, at=at)
        for report, told in reported
        if told.state in rulings
    )
