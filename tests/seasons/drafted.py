"""A season that is drafted, played through the services: everybody, every round, every result."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping
from datetime import date, timedelta
from typing import Any

from league.battles.services.reports import ReportClaim, SideClaim, file_report
from league.clubs.models import Member
from league.seasons.models import Entrant, Pairing, Round, Season
from league.seasons.queries.drafts import draft_of
from league.seasons.services.drafts import publish_round
from league.seasons.services.entrants import enter_each
from league.seasons.services.formats import choose_format
from league.seasons.services.rounds import add_round
from tests import factories

FIRST_DAY = date(2026, 1, 15)


def fill(season: Season, count: int, *, by: Member, pairing: Mapping[str, Any] | None = None) -> list[Entrant]:
    """So many entrants, each a player for themselves, and the format."""
    if pairing is not None:
        choose_format(season, pairing=pairing, by=by)
        season.refresh_from_db()
    people = [factories.MemberFactory(club=season.club, name=f"Pike {number:02}") for number in range(1, count + 1)]
    return enter_each(season, member_ids=[person.pk for person in people], by=by)


def next_round(season: Season, *, by: Member) -> Round:
    """A round a week, published as drafted."""
    number = season.rounds.count() + 1
    made = add_round(season, on=FIRST_DAY + timedelta(weeks=number), by=by)
    return publish_round(made, seen=draft_of(made).digest, by=by)


def play(in_round: Round, *, by: Member, score: Callable[[Pairing], tuple[int, int]] = lambda pairing: (9, 4)) -> None:
    """Every game of two of the round reported; the better score to the first seat unless told otherwise."""
    for pairing in in_round.pairings.filter(removed_at=None, game__cancelled_at=None, game__reports=None):
        if pairing.game is not None:
            report(pairing, *score(pairing), by=by)


def report(pairing: Pairing, first: int, second: int, *, by: Member) -> Any:
    claim = ReportClaim(
        fought_on=pairing.round.on or FIRST_DAY,
        sides=[SideClaim(position=1, score=first), SideClaim(position=2, score=second)],
    )
    return file_report(pairing.game, claim=claim, submission=uuid.uuid4(), by=by)


def seats(in_round: Round) -> list[tuple[str, ...]]:
    """Who meets whom, by key; a bye is alone."""
    pairings = in_round.pairings.filter(removed_at=None).order_by("position")
    return [tuple(pairing.seats.order_by("position").values_list("entrant__key", flat=True)) for pairing in pairings]
