"""Direct encounter: the games among those who are still level, for all level groups at once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from .columns import Application, DirectColumn
from .groups import refined
from .ledger import WIN, Flags, Ints, Ledger
from .points import outcome_points, unplayed_points
from .rules import Rules, TieBreak


def counted_edges(ledger: Ledger, rules: Rules) -> Flags:
    """Which meetings count: all on record where unplayed games count as scored, else only those played."""
    if rules.unplayed_policy == "as_scored":
        return np.ones(len(ledger.edge_from), dtype=np.bool_)
    return ledger.edge_played


def piece_values(ledger: Ledger, rules: Rules, piece: str, edges: Ints) -> Ints:
    """What each of the edges gives its owner. Points are those of the result against that opponent, no bonuses."""
    rows = ledger.appearances
    mine = ledger.edge_from[edges]
    if piece == "points":
        played = outcome_points(rules.scheme)[ledger.edge_result[edges]]
        return np.where(ledger.edge_played[edges], played, unplayed_points(rules.scheme)[rows.unplayed[mine]])
    if piece == "wins":
        won: Ints = (ledger.edge_played[edges] & (ledger.edge_result[edges] == WIN)).astype(np.int64)
        return won
    if piece == "score_for":
        return np.asarray(rows.score[mine], dtype=np.int64)
    return np.subtract(rows.score[mine], rows.score[ledger.edge_to[edges]], dtype=np.int64)


def direct_encounter(ledger: Ledger, rules: Rules, tie_break: TieBreak, groups: Ints) -> DirectColumn:
    """The column for entrants who are level within `groups` (numbered from 0, best first).

    With `reapply`, groups that it splits are looked at again by themselves until nothing more splits.
    """
    edges = np.flatnonzero(counted_edges(ledger, rules) & within(ledger, groups))
    values = [piece_values(ledger, rules, piece, edges) for piece in tie_break.pieces]
    applications = [_applied(ledger, tie_break, groups, edges, values)]
    split = refined(groups, *applications[0].pieces.T)
    while tie_break.reapply and split.max(initial=0) > applications[-1].groups.max(initial=0):
        again = _applied(ledger, tie_break, split, edges, values)
        before = applications[-1].groups
        smaller = np.bincount(split)[split] < np.bincount(before)[before]
        applications.append(replace(again, applied=again.applied & smaller))
        split = refined(split, *again.pieces.T)
    return DirectColumn(key=-split, numerator=applications[0].pieces[:, 0], applications=tuple(applications))


def within(ledger: Ledger, groups: Ints) -> Flags:
    """Which edges join two of the same group."""
    return np.equal(groups[ledger.edge_owner], groups[ledger.edge_opponent])


def _applied(ledger: Ledger, tie_break: TieBreak, groups: Ints, edges: Ints, values: list[Ints]) -> Application:
    sizes = np.bincount(groups)
    owner, opponent = ledger.edge_owner[edges], ledger.edge_opponent[edges]
    counted = groups[owner] == groups[opponent]
    looked_at = sizes > 1
    if tie_break.wait:
        met = np.unique(owner[counted] * len(groups) + opponent[counted]) // max(1, len(groups))
        looked_at &= np.bincount(groups[met], minlength=len(sizes)) == sizes * (sizes - 1)
        counted &= looked_at[groups[owner]]
    pieces = np.zeros((len(groups), len(values)), dtype=np.int64)
    for column, of_edges in enumerate(values):
        np.add.at(pieces[:, column], owner[counted], of_edges[counted])
    return Application(groups=groups, applied=looked_at[groups], pieces=pieces)
