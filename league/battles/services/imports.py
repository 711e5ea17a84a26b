"""Games that were fought elsewhere, taken over in bulk with what is known of them."""

from __future__ import annotations

import secrets
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from hashlib import sha256
from typing import Literal

from django.db import transaction
from django.utils.translation import gettext as _

from league.battles.models import Answer, Game, ObjectiveCount, Report, Ruling, Side, SidePlayer, SideResult
from league.clubs.models import Club, Member
from league.rulesets.models import Edition

__all__ = ["ImportedGame", "ImportedSide", "import_games"]

State = Literal["none", "awaiting", "confirmed", "disputed", "settled", "void"]


@dataclass(frozen=True, kw_only=True, slots=True)
class ImportedSide:
    """A side as told: its players, perhaps none by name; how it came out, `outcome` empty where nothing is reported."""

    member_ids: Sequence[int] = ()
    score: int | None = None
    outcome: str = ""
    conceded: bool = False
    value_destroyed: int = 0
    value_lost: int = 0
    counts: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class ImportedGame:
    """A game as told. `state` is a `ReportState`, or "none" for a game still to be played; `scenario` need not be one
    the ruleset knows.
    """

    on: date
    scenario: str = ""
    state: State = "none"
    sides: Sequence[ImportedSide]


@transaction.atomic
def import_games(
    club: Club, *, edition: Edition, games: Sequence[ImportedGame], by: Member, at: datetime
) -> list[Game]:
    """Write games and their reports as told, in the order given: a fixed number of inserts however many.

    Nothing is checked against the ruleset and no roster is touched, since nothing but the result is known. The caller
    writes the line in the book of acts.
    """
    rows = Game.objects.bulk_create(blank_game(club, edition, told, by, at) for told in games)
    sides = Side.objects.bulk_create(
        Side(game=row, position=position)
        for row, told in zip(rows, games, strict=True)
        for position, _side in enumerate(told.sides, start=1)
    )
    facts = [(row, told, side) for row, told in zip(rows, games, strict=True) for side in told.sides]
    SidePlayer.objects.bulk_create(
        SidePlayer(game=row, side=written, member_id=member_id)
        for (row, _told, side), written in zip(facts, sides, strict=True)
        for member_id in side.member_ids
    )
    reports = {
        report.game_id: report
        for report in Report.objects.bulk_create(
            Report(game=row, fought_on=told.on, filed_by=by, filed_at=at, notes=_("Taken over from a file."))
            for row, told in zip(rows, games, strict=True)
            if told.state != "none"
        )
    }
    write_results(
        (reports[row.pk], written, side)
        for (row, told, side), written in zip(facts, sides, strict=True)
        if told.state != "none"
    )
    write_last_words(
        [(reports[row.pk], told.state) for row, told in zip(rows, games, strict=True) if told.state != "none"], by, at
    )
    return rows


def blank_game(club: Club, edition: Edition, told: ImportedGame, by: Member, at: datetime) -> Game:
    seed = secrets.token_bytes(32)
    return Game(
        club=club,
        edition=edition,
        scenario=told.scenario,
        on=told.on,
        seed=seed.hex(),
        seed_hash=sha256(seed).hexdigest(),
        created_by=by,
        created_at=at,
        started_at=None if told.state == "none" else at,
    )


def write_results(facts: Iterable[tuple[Report, Side, ImportedSide]]) -> None:
    told = list(facts)
    results = SideResult.objects.bulk_create(
        SideResult(
            report=report,
            side=written,
            score=side.score,
            conceded=side.conceded,
            outcome=side.outcome,
            value_destroyed=side.value_destroyed,
            value_lost=side.value_lost,
        )
        for report, written, side in told
    )
    ObjectiveCount.objects.bulk_create(
        ObjectiveCount(result=result, objective=key, count=count)
        for result, (_report, _written, side) in zip(results, told, strict=True)
        for key, count in side.counts.items()
    )


def write_last_words(reports: Iterable[tuple[Report, State]], by: Member, at: datetime) -> None:
    """What followed each report, in the importer's name, since the file does not say whose word it was."""
    told = list(reports)
    words = _("So it stood in the file.")
    Answer.objects.bulk_create(
        Answer(report=report, member=by, verdict=state, text=words, at=at)
        for report, state in told
        if state in {Answer.Verdict.CONFIRMED, Answer.Verdict.DISPUTED}
    )
    verdicts = {"settled": Ruling.Verdict.STANDS, "void": Ruling.Verdict.VOID}
    Ruling.objects.bulk_create(
        Ruling(report=report, verdict=verdicts[state], text=words, by=by, at=at)
        for report, state in told
        if state in verdicts
    )
