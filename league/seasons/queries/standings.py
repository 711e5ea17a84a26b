"""The table of a season, now or as it stood, and the reasons of every number in it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from league.engines.documents.season import COUNTING, SeasonDocument, SeasonGame, games_until, standings_of
from league.engines.standings import Reason, Row, Table, TieBreakValue, explain
from league.engines.standings.table import written
from league.seasons.models import Season
from league.seasons.queries.documents import document_of

__all__ = [
    "PLAIN_COLUMNS",
    "Cell",
    "Comparison",
    "Remark",
    "Standings",
    "explain_cell",
    "explain_rank",
    "points_after",
    "standings",
]

POINTS_SCALE = 2
EN_DASH = "\N{EN DASH}"
MINUS = "\N{MINUS SIGN}"
# Columns whose reasons are the games of one kind, and those kinds.
TALLIES: Mapping[str, frozenset[str]] = {
    "played": frozenset({"win", "draw", "loss"}),
    "won": frozenset({"win"}),
    "drawn": frozenset({"draw"}),
    "lost": frozenset({"loss"}),
    "unplayed": frozenset({"bye", "forfeit_win", "forfeit_loss", "absent"}),
}
PLAIN_COLUMNS = (*TALLIES, "points", "points_per_game", "score_for", "score_against")


@dataclass(frozen=True, kw_only=True, slots=True)
class Remark:
    """Results of one entrant that are not the last word: counted although nobody confirmed them, or not counted."""

    awaiting_counted: int = 0
    awaiting_left_out: int = 0
    disputed: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Standings:
    """The table with the document it comes from. `remarks` by entrant id; who has none is not in it."""

    season: Season
    document: SeasonDocument
    table: Table
    through_round: int | None = None
    through_date: date | None = None
    remarks: Mapping[str, Remark] = field(default_factory=dict)

    @property
    def rows(self) -> tuple[Row, ...]:
        return self.table.rows

    def row(self, entrant: str) -> Row:
        """KeyError for an entrant who is not in the table."""
        return self.table.row(entrant)


@dataclass(frozen=True, kw_only=True, slots=True)
class Cell:
    """One number with its reasons. `total` is what the reasons add up to, written like `text`."""

    entrant: str
    column: str
    text: str
    total: str
    scale: int
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Comparison:
    """One criterion between an entrant and `other`; `parts` says whether it is the one that parts them."""

    column: str
    other: str
    mine: str
    theirs: str
    parts: bool


def standings(season: Season, *, through_round: int | None = None, through_date: date | None = None) -> Standings:
    """The table as of now, or as it stood after a round or at the end of a day; ten queries, whatever the size."""
    document = document_of(season)
    return Standings(
        season=season,
        document=document,
        table=standings_of(document, through_round=through_round, through_date=through_date),
        through_round=through_round,
        through_date=through_date,
        remarks=remarks_of(document, games_until(document, through_round=through_round, through_date=through_date)),
    )


def points_after(document: SeasonDocument, number: int) -> dict[str, int]:
    """Half-points by entrant after a round."""
    return {row.entrant_id: row.points_x2 for row in standings_of(document, through_round=number).rows}


def remarks_of(document: SeasonDocument, games: Iterable[SeasonGame]) -> dict[str, Remark]:
    counted = "awaiting" in COUNTING[document.counts]
    awaiting: defaultdict[str, int] = defaultdict(int)
    disputed: defaultdict[str, int] = defaultdict(int)
    for game in games:
        if game.report in {"awaiting", "disputed"}:
            for side in game.sides:
                (awaiting if game.report == "awaiting" else disputed)[side.entrant] += 1
    return {
        entrant: Remark(
            awaiting_counted=awaiting[entrant] if counted else 0,
            awaiting_left_out=0 if counted else awaiting[entrant],
            disputed=disputed[entrant],
        )
        for entrant in {*awaiting, *disputed}
    }


def explain_cell(reckoned: Standings, *, entrant: str, column: str) -> Cell:
    """The reasons of one number; they add up to it.

    Raises:
        KeyError: the table has no such entrant or column.
    """
    row = reckoned.row(entrant)
    if column in TALLIES:
        reasons = tuple(
            Reason(
                kind=each.kind,
                contribution=1,
                game_id=each.game_id,
                round=each.round,
                opponent_id=each.opponent_id,
            )
            for each in explain(reckoned.table, entrant, "points")
            if each.kind in TALLIES[column]
        )
        return cell(entrant, column, value=getattr(row, column), scale=1, reasons=reasons)
    value, scale = value_of(row, column)
    return cell(entrant, column, value=value, scale=scale, reasons=explain(reckoned.table, entrant, column))


def explain_rank(reckoned: Standings, *, entrant: str) -> tuple[Comparison, ...]:
    """Why an entrant stands below the one above it (the first: above the one below it): each criterion in its order,
    down to the one that parts them.

    Raises:
        KeyError: the table has no such entrant.
    """
    row = reckoned.row(entrant)
    if len(reckoned.rows) < 2:  # noqa: PLR2004 - nobody to compare with
        return ()
    place = reckoned.rows.index(row)
    other = reckoned.rows[place - 1] if place else reckoned.rows[1]
    rules = reckoned.document.rules
    told = []
    if (row.played >= rules.least_games) != (other.played >= rules.least_games):
        games = {"mine": str(row.played), "theirs": str(other.played)}
        return (Comparison(column="played", other=other.entrant_id, parts=True, **games),)
    for column in (rules.rank_by, *(each.column for each in rules.tie_breaks)):
        mine, theirs = cells_of(row, column), cells_of(other, column)
        told.append(
            Comparison(column=column, other=other.entrant_id, mine=mine[0], theirs=theirs[0], parts=mine != theirs)
        )
        if mine != theirs:
            break
    return tuple(told)


def was_asked(value: TieBreakValue) -> bool:
    """A direct encounter is asked only among those level on everything before it, and only once they all have met."""
    return value.name != "direct_encounter" or bool(value.parts)


def tie_break_text(value: TieBreakValue) -> str:
    """A tie-break for a reader: a dash where it was not asked, and a true minus."""
    return value.text.replace("-", MINUS) if was_asked(value) else EN_DASH


def cells_of(row: Row, column: str) -> tuple[str, tuple[int, ...]]:
    """What a criterion compares, written out, and the pieces of a direct encounter."""
    if column in PLAIN_COLUMNS:
        value, scale = value_of(row, column)
        return (written(value, scale) if value is not None else EN_DASH), ()
    found = tie_break_of(row, column)
    return tie_break_text(found), found.parts


def tie_break_of(row: Row, column: str) -> TieBreakValue:
    """KeyError for a tie-break that the season does not have."""
    for each in row.values:
        if each.name == column:
            return each
    raise KeyError(column)


def value_of(row: Row, column: str) -> tuple[int | Fraction | None, int]:
    """A number of the row and what to divide it by."""
    if column == "points":
        return row.points_x2, POINTS_SCALE
    if column in {"points_per_game", "score_for", "score_against"}:
        return getattr(row, column), 1
    found = tie_break_of(row, column)
    return found.value, found.scale


def cell(entrant: str, column: str, *, value: int | Fraction | None, scale: int, reasons: tuple[Reason, ...]) -> Cell:
    total = sum(each.contribution for each in reasons)
    divisor = sum(each.divisor for each in reasons)
    is_ratio = any(each.divisor for each in reasons)
    added = written(Fraction(total, divisor), 1) if is_ratio else written(total, scale)
    text = written(value, scale)
    return Cell(entrant=entrant, column=column, text=text, total=added, scale=scale, reasons=reasons)
