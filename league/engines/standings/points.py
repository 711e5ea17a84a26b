"""What each appearance scores, and what that comes to."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .columns import Totals
from .ledger import DRAW, LOSS, PLAYED, WIN, Flags, Ints, Ledger, sum_by
from .model import Adjustment
from .rules import Bonus, Scheme


def outcome_points(scheme: Scheme) -> Ints:
    """Half-points by outcome code: loss, draw, win."""
    return np.array([scheme.loss_x2, scheme.draw_x2, scheme.win_x2], dtype=np.int64)


def unplayed_points(scheme: Scheme) -> Ints:
    """Half-points by unplayed code; 0 stands for "played"."""
    return np.array([0, scheme.bye_x2, scheme.forfeit_win_x2, scheme.forfeit_loss_x2, scheme.absent_x2], dtype=np.int64)


def result_points(ledger: Ledger, scheme: Scheme) -> Ints:
    """Half-points of each appearance for its result alone."""
    unplayed = ledger.appearances.unplayed
    by_result = outcome_points(scheme)[ledger.outcome]
    return (
        by_result if not unplayed.any() else np.where(unplayed == PLAYED, by_result, unplayed_points(scheme)[unplayed])
    )


def bonus_earned(ledger: Ledger, bonus: Bonus) -> Flags:
    """Which appearances earn a bonus of a game."""
    rows = ledger.appearances
    played = rows.unplayed == PLAYED
    if bonus.kind == "margin":
        return np.asarray(
            played & (ledger.outcome == WIN) & rows.scored & (rows.score - ledger.against >= bonus.threshold),
            dtype=np.bool_,
        )
    if bonus.kind == "narrow_loss":
        return np.asarray(
            played & (ledger.outcome == LOSS) & rows.scored & (ledger.against - rows.score <= bonus.threshold),
            dtype=np.bool_,
        )
    if bonus.kind == "count_at_least" and bonus.count in rows.counts:
        return np.asarray(played & (rows.counts[bonus.count] >= bonus.threshold), dtype=np.bool_)
    return np.zeros(len(played), dtype=np.bool_)


def appearance_points(ledger: Ledger, scheme: Scheme) -> Ints:
    """Half-points of each appearance: result, showing up, bonuses of the game."""
    points = result_points(ledger, scheme)
    if scheme.showing_up_x2:
        points = points + scheme.showing_up_x2 * (ledger.appearances.unplayed == PLAYED)
    for bonus in scheme.bonuses:
        points = points + bonus.points_x2 * bonus_earned(ledger, bonus)
    return points


def left_out(ledger: Ledger, points: Ints, best_of: int | None) -> Flags:
    """Which appearances are not among their entrant's best by `points`; of equal ones the earlier is taken."""
    out = np.zeros(len(points), dtype=np.bool_)
    if best_of is None:
        return out
    entrant = ledger.appearances.entrant
    order = np.lexsort((np.arange(len(points)), -points, entrant))
    place = np.arange(len(points)) - ledger.starts[entrant[order]]
    out[order] = place >= best_of
    return out


def totals_of(ledger: Ledger, scheme: Scheme, points: Ints, adjustments: Sequence[Adjustment]) -> Totals:
    """Sums by entrant of `points`, the half-points of each appearance; with sweeps and adjustments."""
    rows, starts = ledger.appearances, ledger.starts
    appeared = np.diff(starts)
    unplayed = sum_by(starts, rows.unplayed != PLAYED) if rows.unplayed.any() else np.zeros_like(appeared)
    played = appeared - unplayed
    won = sum_by(starts, ledger.outcome == WIN)
    drawn = sum_by(starts, ledger.outcome == DRAW)
    game_points = sum_by(starts, points)
    total = game_points.copy()
    for bonus in scheme.bonuses:
        if bonus.kind == "clean_sweep":
            total += bonus.points_x2 * swept(bonus, played, won)
    if adjustments:
        index_of = {entrant_id: index for index, entrant_id in enumerate(ledger.ids)}
        for adjustment in adjustments:
            total[index_of[adjustment.entrant_id]] += adjustment.points_x2
    return Totals(
        points=total,
        game_points=game_points,
        played=played,
        unplayed=unplayed,
        won=won,
        drawn=drawn,
        lost=played - won - drawn,
        score_for=sum_by(starts, rows.score),
        score_against=sum_by(starts, ledger.against),
    )


def swept(bonus: Bonus, played: Ints, won: Ints) -> Flags:
    """Who won every game played, and played enough of them."""
    return np.asarray((played == won) & (played >= max(1, bonus.threshold)), dtype=np.bool_)
