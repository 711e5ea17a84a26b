"""The entrants of a season as the pairing engine sees them before a round."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from league.engines.documents.season import standings_of
from league.engines.documents.season_parts import SeasonDocument, SeasonEntrant, SeasonGame
from league.engines.pairing import Player
from league.engines.pairing.model import Float, Role
from league.engines.standings import Table

__all__ = ["NO_RATINGS", "last_round", "players_of", "seated_in"]

NO_RATINGS: Mapping[str, int] = MappingProxyType({})
PAIR = 2
# Who had a point without a game is as one who had a bye (FIDE Handbook C.04.1, from memory).
LIKE_A_BYE = frozenset({"bye", "forfeit_win"})


@dataclass(kw_only=True, slots=True)
class Past:
    """What one entrant did in the rounds so far."""

    met: list[str] = field(default_factory=list)
    byes: int = 0
    floats: list[Float] = field(default_factory=list)
    roles: list[Role] = field(default_factory=list)


def players_of(
    season: SeasonDocument, number: int, *, division: str = "", ratings: Mapping[str, int] = NO_RATINGS
) -> tuple[Player, ...]:
    """Everyone of a division to be paired in round `number`: who entered in time and has no seat there yet.

    Points are those of the table after the round before. Two have met when a game of theirs was not called off, played
    or still to be played: a postponed game is no reason to meet twice. The first seat of a game of two attacks.
    """
    table = standings_of(season, through_round=number - 1)
    points = {row.entrant_id: row.points_x2 for row in table.rows}
    past = _past(season, number, table)
    seated = seated_in(season, number)
    return tuple(
        _player(each, past[each.id], points.get(each.id, 0), ratings.get(each.id))
        for each in season.entrants
        if each.division == division and each.joined_after_round < number and each.id not in seated
    )


def seated_in(season: SeasonDocument, number: int) -> frozenset[str]:
    """Who has a seat in a round: in a game, a bye, or as absent."""
    return frozenset(side.entrant for game in season.games if game.round == number for side in game.sides)


def last_round(season: SeasonDocument) -> int:
    """The last round anybody has a seat in, 0 before the first."""
    return max((game.round for game in season.games), default=0)


def _player(entrant: SeasonEntrant, past: Past, points_x2: int, rating: int | None) -> Player:
    return Player(
        id=entrant.id,
        name=entrant.name,
        points_x2=points_x2,
        rating=rating,
        met=tuple(past.met),
        byes=past.byes,
        floats=tuple(past.floats),
        roles=tuple(past.roles),
        parties=frozenset({entrant.party}) if entrant.party else frozenset(),
        newcomer=entrant.newcomer,
        withdrawn=entrant.left is not None,
    )


def _past(season: SeasonDocument, number: int, table: Table) -> defaultdict[str, Past]:
    before = _points_before(table, number)
    past: defaultdict[str, Past] = defaultdict(Past)
    for game in sorted(season.games, key=lambda game: game.round):
        if not 0 < game.round < number:
            continue
        playing = [side.entrant for side in game.sides if not side.unplayed]
        for side in game.sides:
            mine = past[side.entrant]
            mine.byes += side.unplayed in LIKE_A_BYE
            mine.met += [each for each in playing if each != side.entrant and not side.unplayed]
            mine.floats.append(_float(game, side.entrant, before, game.round))
            mine.roles.append(_role(playing, side.entrant))
    return past


def _role(playing: list[str], entrant: str) -> Role:
    if len(playing) != PAIR or entrant not in playing:
        return ""
    return "attack" if playing[0] == entrant else "defend"


def _float(game: SeasonGame, entrant: str, before: Mapping[str, list[int]], number: int) -> Float:
    """Whether the entrant was paired with one of fewer points, or had the bye: down; with one of more: up."""
    if any(side.entrant == entrant and side.unplayed in LIKE_A_BYE for side in game.sides):
        return "down"
    playing = [side.entrant for side in game.sides if not side.unplayed]
    if len(playing) != PAIR or entrant not in playing:
        return ""
    other = playing[1] if playing[0] == entrant else playing[0]
    mine, theirs = (_at(before, each, number - 1) for each in (entrant, other))
    if mine == theirs:
        return ""
    return "down" if mine > theirs else "up"


def _at(before: Mapping[str, list[int]], entrant: str, number: int) -> int:
    sums = before.get(entrant)
    return sums[number] if sums else 0


def _points_before(table: Table, number: int) -> dict[str, list[int]]:
    """By entrant, the half-points of games after each round from 0 on, without adjustments."""
    return dict(_running(table, number))


def _running(table: Table, number: int) -> Iterator[tuple[str, list[int]]]:
    ledger, points = table.count.ledger, table.count.points
    for index, entrant in enumerate(ledger.ids):
        mine = slice(int(ledger.starts[index]), int(ledger.starts[index + 1]))
        by_round = np.zeros(number, dtype=np.int64)
        np.add.at(by_round, ledger.appearances.round[mine], points[mine])
        yield entrant, np.cumsum(by_round).tolist()
