"""A season in parts: its divisions, its groups, each with a table of its own."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from league.engines.documents.season_parts import SeasonDocument, SeasonEntrant
from league.engines.pairing import lot, snake_groups

__all__ = ["divisions_of", "groups_of", "in_seeding", "only"]


def divisions_of(season: SeasonDocument) -> tuple[str, ...]:
    """The ids of the divisions somebody is in, from the top; the empty one, last, is everybody in none."""
    used = {entrant.division for entrant in season.entrants}
    levels = {each.id: each.level for each in season.divisions}
    return tuple(sorted(used, key=lambda division: levels.get(division, max(levels.values(), default=0) + 1))) or ("",)


def only(season: SeasonDocument, ids: Collection[str]) -> SeasonDocument:
    """The season as if only these took part: games with anybody else are left out."""
    kept = frozenset(ids)
    return replace(
        season,
        entrants=tuple(each for each in season.entrants if each.id in kept),
        games=tuple(game for game in season.games if all(side.entrant in kept for side in game.sides)),
        adjustments=tuple(each for each in season.adjustments if each.entrant in kept),
    )


def in_seeding(season: SeasonDocument, division: str) -> list[SeasonEntrant]:
    """Who entered a division before its first round, by place in the seeding; those without one come after, by lot.

    Who has left keeps the place, so that everybody else's stays.
    """
    entrants = [each for each in season.entrants if each.division == division and not each.joined_after_round]
    return sorted(
        entrants,
        key=lambda each: (each.seed is None, each.seed or 0, lot(season.seed, "seeding", each.id), each.id),
    )


def groups_of(season: SeasonDocument, division: str) -> tuple[tuple[str, ...], ...]:
    """The groups of a division, drawn by the snake from its seeding.

    Raises:
        BadRound: there are fewer entrants than groups.
    """
    return snake_groups(ids_of(in_seeding(season, division)), season.pairing.groups)


def ids_of(entrants: Sequence[SeasonEntrant]) -> list[str]:
    return [each.id for each in entrants]
