"""A challenge ladder as it stands."""

from __future__ import annotations

from dataclasses import dataclass

from league.engines.documents.season_ladder import Climb, Ladder, ladder_of
from league.seasons.models import Entrant, Season
from league.seasons.queries.documents import document_of

__all__ = ["Rung", "ladder_in", "rungs_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Rung:
    """One rung; `climb` is the last one by which its entrant came up, None for whoever never did."""

    number: int
    entrant: Entrant
    may_challenge: tuple[Entrant, ...]
    climb: Climb | None = None


def ladder_in(season: Season) -> Ladder:
    """The ladder of a season: ten queries."""
    return ladder_of(document_of(season))


def rungs_of(season: Season) -> tuple[Rung, ...]:
    """The rungs from the top: eleven queries, whatever the size."""
    ladder = ladder_in(season)
    entrants = {row.key: row for row in season.entrants.order_by("pk")}
    last = {climb.winner: climb for climb in ladder.climbs}
    return tuple(
        Rung(
            number=place + 1,
            entrant=entrants[key],
            may_challenge=tuple(entrants[other] for other in ladder.rungs[max(0, place - ladder.reach) : place]),
            climb=last.get(key),
        )
        for place, key in enumerate(ladder.rungs)
    )
