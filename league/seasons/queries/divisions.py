"""The divisions of a season: a table for each, and who goes up or down at its end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from league.engines.documents.season import SeasonDocument, standings_of
from league.engines.documents.season_divisions import only
from league.engines.standings import Row, Table
from league.seasons.models import Division, Entrant, Season
from league.seasons.queries.documents import document_of

__all__ = ["DivisionTable", "Move", "division_tables", "moves_after", "moves_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class DivisionTable:
    """The table of one division, of games among its entrants alone."""

    division: Division
    table: Table

    @property
    def rows(self) -> tuple[Row, ...]:
        return self.table.rows


@dataclass(frozen=True, kw_only=True, slots=True)
class Move:
    """Where an entrant plays next season: the division's level; `was` where it is in this one."""

    entrant: Entrant
    was: Division
    level: int
    place: int

    @property
    def goes_up(self) -> bool:
        return self.level < self.was.level

    @property
    def goes_down(self) -> bool:
        return self.level > self.was.level


def division_tables(season: Season) -> tuple[DivisionTable, ...]:
    """The divisions from the top: eleven queries, whatever the size."""
    divisions = list(season.divisions.order_by("level"))
    if not divisions:
        return ()
    document = document_of(season)
    return tuple(DivisionTable(division=each, table=table_of(document, each.key)) for each in divisions)


def table_of(document: SeasonDocument, division: str) -> Table:
    return standings_of(only(document, {each.id for each in document.entrants if each.division == division}))


def moves_of(season: Season) -> tuple[Move, ...]:
    """Everybody still in, with the level they would play at next: the first of every division but the highest go up,
    the last of every division but the lowest go down, as many as the division says. Who left does not move on.
    """
    return moves_after(season, division_tables(season))


def moves_after(season: Season, tables: Sequence[DivisionTable]) -> tuple[Move, ...]:
    """As `moves_of`, of tables that are reckoned already: one query."""
    entrants = {row.key: row for row in season.entrants.filter(left_at=None)}
    levels = [each.division.level for each in tables]
    return tuple(move for each in tables for move in moves_in(each, entrants, levels))


def moves_in(table: DivisionTable, entrants: dict[str, Entrant], levels: Sequence[int]) -> list[Move]:
    division = table.division
    staying = [entrants[row.entrant_id] for row in table.rows if row.entrant_id in entrants]
    above = max((level for level in levels if level < division.level), default=None)
    below = min((level for level in levels if level > division.level), default=None)
    moves = []
    for place, entrant in enumerate(staying, start=1):
        level = division.level
        if above is not None and place <= division.promotes:
            level = above
        elif below is not None and place > len(staying) - division.relegates:
            level = below
        moves.append(Move(entrant=entrant, was=division, level=level, place=place))
    return moves
