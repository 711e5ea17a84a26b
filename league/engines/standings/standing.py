"""From games to a table."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .check import BadSeason, violations_of, violations_of_rules
from .columns import Column, ratio, whole
from .direct import direct_encounter
from .groups import refined
from .ledger import Ints, Ledger
from .model import Adjustment, Entrant, Game
from .rules import Rules
from .table import Table
from .tiebreaks import COLUMNS, Count


def standings(
    entrants: Sequence[Entrant],
    games: Sequence[Game],
    adjustments: Sequence[Adjustment] = (),
    rules: Rules = Rules(),  # noqa: B008  frozen
    through_round: int | None = None,
) -> Table:
    """The table of a season, after `through_round` or as of now. The order of entrants and games is of no account.

    Raises BadSeason with every violation.
    """
    violations = violations_of(entrants, games, adjustments, rules, through_round)
    if violations:
        raise BadSeason(violations)
    return _counted(Ledger.from_games(entrants, games), rules, adjustments, through_round)


def standings_of_ledger(
    ledger: Ledger,
    rules: Rules,
    adjustments: Sequence[Adjustment] = (),
    through_round: int | None = None,
) -> Table:
    """The same from columns, which are trusted to be sound. Raises BadSeason for rules that make no sense."""
    violations = tuple(violations_of_rules(rules))
    if violations:
        raise BadSeason(violations)
    return _counted(ledger, rules, adjustments, through_round)


def _counted(ledger: Ledger, rules: Rules, adjustments: Sequence[Adjustment], through_round: int | None) -> Table:
    if rules.leavers == "annul" and ledger.left.any():
        ledger = ledger.without_leavers()
    if through_round is not None:
        ledger = ledger.through(through_round)
    ids = frozenset(ledger.ids) if adjustments else frozenset()
    count = Count(
        ledger,
        rules,
        tuple(
            adjustment
            for adjustment in adjustments
            if adjustment.entrant_id in ids and (through_round is None or adjustment.round <= through_round)
        ),
    )
    columns, groups = _columns_and_groups(count)
    order = np.argsort(groups, kind="stable")
    sizes = np.bincount(groups)
    ahead = np.cumsum(sizes) - sizes
    return Table(
        count=count,
        columns=columns,
        order=order,
        ranks=ahead[groups[order]] + 1,
        shared=sizes[groups[order]] > 1,
    )


def _columns_and_groups(count: Count) -> tuple[dict[str, Column], Ints]:
    """Each criterion in turn splits those the earlier ones left level; neighbours that need no groups are split in one
    sort."""
    ledger, rules = count.ledger, count.rules
    groups = np.zeros(len(ledger.ids), dtype=np.int64)
    pending = [_first_criterion(count).key]
    if rules.least_games:
        pending.insert(0, (count.totals.played >= rules.least_games).astype(np.int64))
    columns: dict[str, Column] = {}
    for tie_break in rules.tie_breaks:
        if tie_break.name == "direct_encounter":
            groups, pending = refined(groups, *pending), []
            column: Column = direct_encounter(ledger, rules, tie_break, groups)
        else:
            column = COLUMNS[tie_break.name](count, tie_break)
        columns[tie_break.column] = column
        pending.append(column.key)
    return columns, refined(groups, *pending)


def _first_criterion(count: Count) -> Column:
    totals = count.totals
    if count.rules.rank_by == "points":
        return whole(totals.points)
    return ratio(totals.points, np.maximum(totals.played + totals.unplayed, 1))
