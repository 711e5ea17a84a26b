"""The season document: read, written and reckoned with.

`read_season` makes a `SeasonDocument` of JSON or says everything that is wrong with it; `write_season` and `dump` make
JSON of it again, in one canonical form, so that equal seasons are equal bytes; `standings_of` asks the standings
engine for the table, now or as it stood.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date
from itertools import combinations

from league.engines import standings
from league.engines.documents.season_formats import FormatName, Pairing, read_pairing, write_pairing
from league.engines.documents.season_parts import (
    COUNTING,
    Counts,
    ReportState,
    SeasonAdjustment,
    SeasonDivision,
    SeasonDocument,
    SeasonEntrant,
    SeasonGame,
    SeasonLeft,
    SeasonRound,
    SeasonSide,
)
from league.engines.documents.season_read import FORMAT, outcomes_by_score, read_rules, read_season, seed_number
from league.engines.documents.season_write import dump, write_rules, write_season
from league.engines.standings import Table

__all__ = [
    "COUNTING",
    "FORMAT",
    "Counts",
    "FormatName",
    "Pairing",
    "ReportState",
    "SeasonAdjustment",
    "SeasonDivision",
    "SeasonDocument",
    "SeasonEntrant",
    "SeasonGame",
    "SeasonLeft",
    "SeasonRound",
    "SeasonSide",
    "dump",
    "games_until",
    "outcomes_by_score",
    "read_pairing",
    "read_rules",
    "read_season",
    "reckoned_from",
    "seed_number",
    "standings_of",
    "write_pairing",
    "write_rules",
    "write_season",
]


def standings_of(
    season: SeasonDocument, *, through_round: int | None = None, through_date: date | None = None
) -> Table:
    """The table as of now, or as it stood after `through_round`, at the end of `through_date`, or both.

    A game counts when its report does (`COUNTING`); a bye, a forfeit or an absence counts as soon as it is on record.
    What has no day of its own has the day of its round, and failing that the first day of the season. Open play
    (round 0) counts in every look back by round. In an open season only so many games between the same opponents count,
    the first by day and then in the document's order.

    Raises:
        standings.BadSeason: the document was not made by `read_season` and makes no sense.
    """
    entrants, games, adjustments = reckoned_from(season, through_round=through_round, through_date=through_date)
    return standings.standings(entrants, games, adjustments, season.rules, through_round=through_round)


def reckoned_from(
    season: SeasonDocument, *, through_round: int | None = None, through_date: date | None = None
) -> tuple[list[standings.Entrant], list[standings.Game], list[standings.Adjustment]]:
    """What the table of `standings_of` is reckoned from, by the rules that stand there."""
    entrants = [
        standings.Entrant(id=each.id, name=each.name, left=_has_left(each.left, through_round, through_date))
        for each in season.entrants
    ]
    games = [_game(game) for game in _first_meetings(season, through_date)]
    adjustments = [
        standings.Adjustment(
            entrant_id=each.entrant, points_x2=each.points_x2, reason=each.reason, round=each.after_round
        )
        for each in season.adjustments
        if through_date is None or (each.on or season.starts_on) <= through_date
    ]
    return entrants, games, adjustments


def _has_left(left: SeasonLeft | None, through_round: int | None, through_date: date | None) -> bool:
    if left is None:
        return False
    later_round = through_round is not None and left.after_round is not None and left.after_round > through_round
    later_day = through_date is not None and left.on is not None and left.on > through_date
    return not (later_round or later_day)


def games_until(
    season: SeasonDocument, *, through_round: int | None = None, through_date: date | None = None
) -> Iterator[SeasonGame]:
    """The games that a look back takes into view, whether they count or not."""
    days = {each.number: each.on for each in season.rounds}
    for game in season.games:
        on = game.on or days.get(game.round) or season.starts_on
        if (through_round is None or game.round <= through_round) and (through_date is None or on <= through_date):
            yield game


def _first_meetings(season: SeasonDocument, through_date: date | None) -> Iterator[SeasonGame]:
    """The games that count, without those beyond what counts between the same opponents."""
    counting = [game for game in games_until(season, through_date=through_date) if _counts(season, game)]
    most = season.pairing.most_against if season.pairing.format == "open" else None
    if most is None:
        yield from counting
        return
    met: Counter[tuple[str, ...]] = Counter()
    for game in sorted(counting, key=lambda game: game.on or season.starts_on):
        playing = sorted(side.entrant for side in game.sides if not side.unplayed)
        pairs = list(combinations(playing, 2))
        if all(met[pair] < most for pair in pairs):
            met.update(pairs)
            yield game


def _counts(season: SeasonDocument, game: SeasonGame) -> bool:
    return game.report in COUNTING[season.counts] or all(side.unplayed for side in game.sides)


def _game(game: SeasonGame) -> standings.Game:
    """Scores count where every side that played has one; after a concession there may be some only."""
    scored = all(side.score is not None for side in game.sides if not side.unplayed)
    return standings.Game(
        id=game.id,
        round=game.round,
        sides=tuple(
            standings.Side(
                entrant_id=side.entrant,
                score=side.score if scored else None,
                outcome=side.outcome,
                counts=side.counts,
                value_destroyed=side.value_destroyed,
                value_lost=side.value_lost,
                unplayed=side.unplayed,
            )
            for side in game.sides
        ),
    )
