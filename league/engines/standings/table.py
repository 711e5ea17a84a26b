"""The table a season comes to: rows to read, columns of numbers behind them, reasons on request."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from .columns import Column, DirectColumn
from .rules import TieBreak

if TYPE_CHECKING:
    from .tiebreaks import Count

Ints = NDArray[np.int64]


@dataclass(frozen=True, kw_only=True, slots=True)
class TieBreakValue:
    """One cell. `value / scale` is the number meant; `text` is that number written out.

    `value` is None where there is none: a score average against nothing scored, written as "∞".
    `parts` are the pieces of a direct encounter, in the rule's order, once per time it was applied.
    """

    name: str
    value: int | Fraction | None
    scale: int
    text: str
    parts: tuple[int, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One entrant's line. `played` = `won` + `drawn` + `lost`, games played only; `unplayed` are the byes, forfeits
    and absences on record. `points_per_game` is in points (not half-points) over all of these, None before the first.
    `shared`: level with a neighbour on everything, so both have this `rank`.
    """

    rank: int
    entrant_id: str
    name: str
    played: int
    won: int
    drawn: int
    lost: int
    unplayed: int
    points_x2: int
    points_per_game: Fraction | None
    score_for: int
    score_against: int
    values: tuple[TieBreakValue, ...]
    shared: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Reason:
    """One part of a number. The contributions of a cell's reasons add up to its value, in the cell's own scale.

    For a ratio (points per game, score average) the value is the sum of contributions over the sum of divisors.
    `kind` says what it is: `win`, `draw`, `loss`, `bye`, `forfeit_win`, `forfeit_loss`, `absent`, `showing_up`,
    `bonus:<name>`, `adjustment`, `played`, `virtual_opponent`, `dummy_opponent`, `cut`, `unplayed`, `lot`.
    `opponent_id` is None where there is none, or where a game of many sides has no single one; `note` is the reason an
    adjustment was given, or says that the result is not among the best that count.
    """

    kind: str
    contribution: int
    divisor: int = 0
    game_id: str | None = None
    round: int | None = None
    opponent_id: str | None = None
    note: str = ""


class Table:
    """The standings. `order[i]` is the ledger's index of the entrant in place i and `ranks[i]` the rank there;
    `rows` are made when first asked for, since a table of ten thousand is mostly looked at a page at a time.
    """

    def __init__(
        self,
        *,
        count: Count,
        columns: Mapping[str, Column],
        order: Ints,
        ranks: Ints,
        shared: NDArray[np.bool_],
    ) -> None:
        self.count = count
        self.columns = columns
        self.order = order
        self.ranks = ranks
        self.shared = shared

    def __len__(self) -> int:
        return len(self.order)

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        return tuple(self.row_at(place) for place in range(len(self.order)))

    @cached_property
    def _places(self) -> dict[str, int]:
        return {self.count.ledger.ids[index]: place for place, index in enumerate(self.order.tolist())}

    def index_of(self, entrant_id: str) -> int:
        """Where the columns have this entrant; KeyError for one who is not in the table."""
        return int(self.order[self._places[entrant_id]])

    def row(self, entrant_id: str) -> Row:
        """The line of one entrant; KeyError for one who is not in the table."""
        return self.row_at(self._places[entrant_id])

    def row_at(self, place: int) -> Row:
        """The line in `place`, counted from 0."""
        index = int(self.order[place])
        totals = self.count.totals
        games = int(totals.played[index] + totals.unplayed[index])
        points_x2 = int(totals.points[index])
        return Row(
            rank=int(self.ranks[place]),
            entrant_id=self.count.ledger.ids[index],
            name=self.count.ledger.names[index],
            played=int(totals.played[index]),
            won=int(totals.won[index]),
            drawn=int(totals.drawn[index]),
            lost=int(totals.lost[index]),
            unplayed=int(totals.unplayed[index]),
            points_x2=points_x2,
            points_per_game=Fraction(points_x2, 2 * games) if games else None,
            score_for=int(totals.score_for[index]),
            score_against=int(totals.score_against[index]),
            values=tuple(self._cell(tie_break, index) for tie_break in self.count.rules.tie_breaks),
            shared=bool(self.shared[place]),
        )

    def _cell(self, tie_break: TieBreak, index: int) -> TieBreakValue:
        column = self.columns[tie_break.column]
        scale = tie_break.scale
        value = column.at(index)
        parts = column.parts_at(index) if isinstance(column, DirectColumn) else ()
        return TieBreakValue(name=tie_break.column, value=value, scale=scale, text=written(value, scale), parts=parts)


def written(value: int | Fraction | None, scale: int) -> str:
    """The number meant, in digits: whole, with .5 or .25 where there are, three decimals for a ratio."""
    if value is None:
        return "∞"
    if isinstance(value, Fraction):
        thousandths = round(value * 1000)
        sign = "-" if thousandths < 0 else ""
        return f"{sign}{abs(thousandths) // 1000}.{abs(thousandths) % 1000:03d}"
    whole, rest = divmod(abs(value), scale)
    decimals = f"{rest * 100 // scale:02d}".rstrip("0")
    sign = "-" if value < 0 else ""
    return f"{sign}{whole}.{decimals}" if decimals else f"{sign}{whole}"
