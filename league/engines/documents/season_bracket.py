"""The knock-out of a season as it stands after the games so far."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from league.engines.documents.season import COUNTING, standings_of
from league.engines.documents.season_divisions import groups_of, ids_of, in_seeding, only
from league.engines.documents.season_parts import SeasonDocument, SeasonGame
from league.engines.documents.season_robin import group_rounds
from league.engines.pairing import Bracket, Fixture, draw_bracket, fixtures_of, seeds_from_groups

__all__ = ["Knockout", "knockout_of"]

WON = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Knockout:
    """A bracket, its fixtures, and its entrants in the order of their `seeds`. `first_round`: the season's round that is the bracket's first."""

    bracket: Bracket
    seeds: tuple[str, ...]
    fixtures: tuple[Fixture, ...]
    first_round: int = 1


def knockout_of(season: SeasonDocument, division: str) -> Knockout | None:
    """The bracket of a division; None while its group stage is not over.

    Whoever was to meet somebody who left goes on. A draw sends on whoever has the higher score, and of equal scores the better seed. Both lost: nobody goes on.

    Raises:
        BadRound: too few entrants.
    """
    seeds, first_round = ids_of(in_seeding(season, division)), 1
    if season.pairing.format == "groups_knockout":
        groups = groups_of(season, division)
        first_round = len(group_rounds(groups)) + 1
        if not groups_are_over(season, division, first_round):
            return None
        tables = [
            [row.entrant_id for row in standings_of(only(season, group), through_round=first_round - 1).rows]
            for group in groups
        ]
        seeds = list(seeds_from_groups(tables, through=season.pairing.advance))
    bracket = draw_bracket(seeds, third_place=season.pairing.third_place)
    gone = {each.id for each in season.entrants if each.left is not None}
    winners: dict[str, str] = {}
    fixtures = fixtures_of(bracket, winners)
    # Round by round, since who is in a match follows from the ones before.
    for number in range(1, bracket.rounds + 1):
        results = dict(results_of_round(season, first_round + number - 1, seeds))
        for fixture in fixtures:
            if fixture.match.round != number or not fixture.can_be_played:
                continue
            pair = frozenset(fixture.sides)
            staying = [side for side in fixture.sides if side and side not in gone]
            if pair in results:
                winners[fixture.match.id] = results[pair]
            elif len(staying) < WON:
                winners[fixture.match.id] = staying[0] if staying else ""
        fixtures = fixtures_of(bracket, winners)
    return Knockout(bracket=bracket, seeds=tuple(seeds), fixtures=fixtures, first_round=first_round)


def groups_are_over(season: SeasonDocument, division: str, first_round: int) -> bool:
    """Whether every game of the group stage was drawn up and has a result that counts."""
    mine = {each.id for each in season.entrants if each.division == division}
    games = [
        game
        for game in season.games
        if 0 < game.round < first_round and any(side.entrant in mine for side in game.sides)
    ]
    drawn_up = {game.round for game in games} == set(range(1, first_round))
    return drawn_up and all(counts(season, game) for game in games)


def counts(season: SeasonDocument, game: SeasonGame) -> bool:
    return game.report in COUNTING[season.counts] or all(side.unplayed for side in game.sides)


def results_of_round(
    season: SeasonDocument, number: int, seeds: list[str]
) -> Iterator[tuple[frozenset[str | None], str]]:
    """Who met whom, and who goes on; only of games that count."""
    for game in season.games:
        if game.round == number and len(game.sides) == WON and counts(season, game):
            yield frozenset(side.entrant for side in game.sides), winner_of(game, seeds)


def winner_of(game: SeasonGame, seeds: list[str]) -> str:
    won = [side.entrant for side in game.sides if side.outcome == "win" or side.unplayed == "forfeit_win"]
    if won:
        return won[0]
    if all(side.unplayed == "forfeit_loss" or side.outcome == "loss" for side in game.sides):
        return ""
    return max(game.sides, key=lambda side: (side.score or 0, -place_of(side.entrant, seeds))).entrant


def place_of(entrant: str, seeds: list[str]) -> int:
    return seeds.index(entrant) if entrant in seeds else len(seeds)
