"""The games of a season document as the ratings engine takes them.

Who is rated is the entrant, a player or a team. Games of two go by Glicko-2 in rating periods of a calendar month;
games of three and more sides by Plackett-Luce, in the order of their days. Byes and forfeits say nothing about strength.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from league.engines.documents.season_parts import COUNTING, SeasonDocument, SeasonGame, SeasonSide
from league.engines.ratings import ManyGame, RatedGame

__all__ = ["SCORES_X2", "many_games", "month_of", "period_of", "places", "rated_games"]

PAIR: Final = 2
MONTHS: Final = 12
SCORES_X2: Final = {"win": 2, "draw": 1, "loss": 0}
ROWS: Final = {"win": 0, "draw": 1, "loss": 2}


def period_of(day: date) -> int:
    """The rating period a day falls into: its calendar month, counted from the year 0."""
    return day.year * MONTHS + day.month - 1


def month_of(period: int) -> date:
    """The first day of a rating period."""
    year, month = divmod(period, MONTHS)
    return date(year, month + 1, 1)


def rated_games(season: SeasonDocument) -> list[RatedGame]:
    """Every game of two that was played and counts."""
    return [
        RatedGame(
            id=game.id,
            period=period_of(on),
            first=sides[0].entrant,
            second=sides[1].entrant,
            score_x2=SCORES_X2[sides[0].outcome or "draw"],
        )
        for on, game, sides in _played(season)
        if len(sides) == PAIR
    ]


def many_games(season: SeasonDocument) -> list[ManyGame]:
    """Every game of three or more sides that was played and counts, by their days."""
    found = sorted(
        ((on, game.id, sides) for on, game, sides in _played(season) if len(sides) > PAIR), key=lambda one: one[:2]
    )
    return [
        ManyGame(
            id=game_id,
            sides=tuple((side.entrant,) for side in sides),
            ranks=places([(side.outcome or "draw", side.score) for side in sides]),
        )
        for _on, game_id, sides in found
    ]


def places(results: Sequence[tuple[str, int | None]]) -> tuple[int, ...]:
    """Each side's place in a game, 1 the best, from its outcome and score: who won stands before who drew before who
    lost, and those who lost stand by their scores where all have one."""
    scored = all(score is not None for _outcome, score in results)
    keys = [(ROWS[outcome], -(score or 0) if scored and outcome == "loss" else 0) for outcome, score in results]
    return tuple(1 + sum(other < key for other in keys) for key in keys)


def _played(season: SeasonDocument) -> Iterator[tuple[date, SeasonGame, list[SeasonSide]]]:
    days = {each.number: each.on for each in season.rounds}
    for game in season.games:
        sides = [side for side in game.sides if not side.unplayed]
        if (
            game.report in COUNTING[season.counts]
            and all(side.outcome for side in sides)
            and len(sides) == len(game.sides)
        ):
            yield game.on or days.get(game.round) or season.starts_on, game, sides
