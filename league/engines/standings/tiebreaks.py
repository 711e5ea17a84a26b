"""The tie-breaks that need no knowledge of who is level with whom, each a column of exact whole numbers or ratios."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from typing import Final

import numpy as np

from .columns import Column, Totals, ratio, whole
from .ledger import BYE, FORFEIT_WIN, Flags, Ints, Ledger, sum_by
from .model import Adjustment
from .points import appearance_points, left_out, totals_of
from .rules import CUTS, Rules, TieBreak
from .unplayed import Strengths, strengths_of


@dataclass(frozen=True, kw_only=True, slots=True)
class Contributions:
    """What each Buchholz is made of, sorted by owner; those of entrant `e` are `starts[e]:starts[e + 1]`.

    `edge` is the edge it comes from, or -1 - i for entry i of the own unplayed rounds.
    """

    owner: Ints
    value: Ints
    edge: Ints
    voluntary: Flags
    starts: Ints


class Count:
    """One counting of a ledger under its rules; each part is worked out when first asked for."""

    def __init__(self, ledger: Ledger, rules: Rules, adjustments: Sequence[Adjustment]) -> None:
        self.ledger = ledger
        self.rules = rules
        self.adjustments = adjustments

    @cached_property
    def points(self) -> Ints:
        """Half-points by appearance; nought for one that is left out."""
        return np.where(self.left_out, 0, appearance_points(self.ledger, self.rules.scheme))

    @cached_property
    def left_out(self) -> Flags:
        """Which appearances score nothing because their entrant has enough better ones."""
        return left_out(self.ledger, appearance_points(self.ledger, self.rules.scheme), self.rules.best_of)

    @cached_property
    def totals(self) -> Totals:
        return totals_of(self.ledger, self.rules.scheme, self.points, self.adjustments)

    @cached_property
    def strengths(self) -> Strengths:
        return strengths_of(self.ledger, self.rules, self.points, self.totals.game_points)

    @cached_property
    def played_edges(self) -> Ints | None:
        """The edges of games that were played; None when that is all of them."""
        played = self.ledger.edge_played
        return None if played.all() else np.flatnonzero(played)

    @cached_property
    def edge_values(self) -> Ints:
        """Half-points of the opponent of each edge, 0 where nothing was played."""
        values = self.strengths.as_opponent[self.ledger.edge_opponent]
        return values if self.played_edges is None else values * self.ledger.edge_played

    @cached_property
    def contributions(self) -> Contributions:
        ledger, own = self.ledger, self.strengths.own_unplayed
        edges = np.arange(len(ledger.edge_owner)) if self.played_edges is None else self.played_edges
        owner = np.r_[ledger.edge_owner[edges], own.owner]
        order = np.argsort(owner, kind="stable") if len(own.owner) else slice(None)
        owner = owner[order]
        return Contributions(
            owner=owner,
            value=np.r_[self.edge_values[edges], own.value][order],
            edge=np.r_[edges, -1 - np.arange(len(own.owner))][order],
            voluntary=np.r_[np.zeros(len(edges), dtype=np.bool_), own.voluntary][order],
            starts=np.searchsorted(owner, np.arange(len(ledger.ids) + 1)),
        )

    @cached_property
    def sorted_values(self) -> Ints:
        """The values of the contributions, from low to high within each owner."""
        parts = self.contributions
        lowest = int(parts.value.min(initial=0))
        span = int(parts.value.max(initial=0)) - lowest + 1
        base = parts.owner * span - lowest
        return np.sort(parts.value + base) - base

    @cached_property
    def buchholz(self) -> Ints:
        own = self.strengths.own_unplayed
        played = sum_by(self.ledger.edge_starts, self.edge_values)
        return played + sum_by(np.searchsorted(own.owner, np.arange(len(self.ledger.ids) + 1)), own.value)


def _buchholz(count: Count, tie_break: TieBreak) -> Column:
    """The sum of the opponents' points, without the lowest and highest few (common practice, as FIDE C.07)."""
    low, high = CUTS[tie_break.name]
    if not low and not high:
        return whole(count.buchholz)
    parts = count.contributions
    if parts.voluntary.any():
        return whole(_voluntary_first(parts, low, high))
    return whole(_between(parts.starts, count.sorted_values, low, high))


def _between(starts: Ints, values: Ints, low: int, high: int) -> Ints:
    """Sums of runs without their first `low` and last `high` values."""
    begin = np.minimum(starts[:-1] + low, starts[1:])
    end = np.maximum(starts[1:] - high, begin)
    running: Ints = np.r_[0, np.cumsum(values)]
    return running[end] - running[begin]


def _voluntary_first(parts: Contributions, low: int, high: int) -> Ints:
    """As `_between`, but the lowest to go are the voluntarily unplayed rounds while there are any."""
    order = np.lexsort((parts.value, ~parts.voluntary, parts.owner))
    place = np.arange(len(order)) - parts.starts[parts.owner]
    rest = order[place >= low]
    owner, value = parts.owner[rest], parts.value[rest]
    starts = np.searchsorted(owner, np.arange(len(parts.starts)))
    return _between(starts, value[np.lexsort((value, owner))], 0, high)


def _sum_of_buchholz(count: Count, _: TieBreak) -> Column:
    ledger = count.ledger
    return whole(sum_by(ledger.edge_starts, count.buchholz[ledger.edge_opponent] * ledger.edge_played))


def _sonneborn_berger(count: Count, _: TieBreak) -> Column:
    """All the points of opponents beaten and half of those drawn with, in quarter-points."""
    ledger, own = count.ledger, count.strengths.own_unplayed
    played = sum_by(ledger.edge_starts, count.edge_values * ledger.edge_result)
    starts = np.searchsorted(own.owner, np.arange(len(ledger.ids) + 1))
    return whole(played + sum_by(starts, own.value * own.result))


def _progressive(count: Count, _: TieBreak) -> Column:
    """The sum of the running totals after each round, byes and bonuses of games as scored."""
    rounds_left = count.ledger.rounds - count.ledger.appearances.round + 1
    return whole(sum_by(count.ledger.starts, count.points * rounds_left))


def _wins(count: Count, tie_break: TieBreak) -> Column:
    if not tie_break.with_unplayed:
        return whole(count.totals.won)
    unplayed = count.ledger.appearances.unplayed
    return whole(count.totals.won + sum_by(count.ledger.starts, (unplayed == BYE) | (unplayed == FORFEIT_WIN)))


def _score_difference(count: Count, _: TieBreak) -> Column:
    return whole(count.totals.score_for - count.totals.score_against)


def _score_for(count: Count, _: TieBreak) -> Column:
    return whole(count.totals.score_for)


def _score_average(count: Count, _: TieBreak) -> Column:
    return ratio(count.totals.score_for, count.totals.score_against)


def _value_difference(count: Count, _: TieBreak) -> Column:
    rows = count.ledger.appearances
    return whole(sum_by(count.ledger.starts, rows.destroyed - rows.lost))


def _count_total(count: Count, tie_break: TieBreak) -> Column:
    ledger = count.ledger
    counted = ledger.appearances.counts.get(tie_break.count)
    return whole(np.zeros(len(ledger.ids), dtype=np.int64) if counted is None else sum_by(ledger.starts, counted))


def _drawn_lot(count: Count, _: TieBreak) -> Column:
    return whole(np.array([lot(count.rules.seed, entrant_id) for entrant_id in count.ledger.ids], dtype=np.int64))


def lot(seed: int, entrant_id: str) -> int:
    """One entrant's lot, 48 bits (exact in JSON too): the season's seed and the id decide it, nobody else's presence does."""
    digest = sha256(f"{seed}\n{entrant_id}".encode()).digest()
    return int.from_bytes(digest[:6])


COLUMNS: Final[dict[str, Callable[[Count, TieBreak], Column]]] = {
    **dict.fromkeys(CUTS, _buchholz),
    "sum_of_buchholz": _sum_of_buchholz,
    "sonneborn_berger": _sonneborn_berger,
    "progressive": _progressive,
    "wins": _wins,
    "score_difference": _score_difference,
    "score_for": _score_for,
    "score_average": _score_average,
    "value_difference": _value_difference,
    "count_total": _count_total,
    "drawn_lot": _drawn_lot,
}
