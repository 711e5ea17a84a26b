"""Why a number is what it is: the parts that add up to it, worked out for one cell when somebody asks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from .columns import DirectColumn
from .direct import counted_edges, piece_values
from .ledger import BYE, FORFEIT_WIN, PLAYED, UNPLAYED_WORDS, WIN, Ledger
from .points import bonus_earned, outcome_points, swept, unplayed_points
from .rules import CUTS, TieBreak
from .table import Reason, Table
from .tiebreaks import Count, lot

NOT_AMONG_THE_BEST: Final = "not among the best results"
OUTCOME_WORDS: Final = ("loss", "draw", "win")


def explain(table: Table, entrant_id: str, column: str) -> tuple[Reason, ...]:
    """The reasons of one cell. `column` is `points`, `points_per_game`, `score_for`, `score_against`, or the name of a
    tie-break of the table (`TieBreakValue.name`). KeyError for an entrant or a column the table does not have.

    The contributions add up to the value in the cell's own scale: half-points for `points`; for `points_per_game`
    half-points over two a game; a direct encounter adds up to its first piece.
    """
    count = table.count
    index = table.index_of(entrant_id)
    if column in _PLAIN:
        return tuple(_PLAIN[column](count, index))
    tie_break = next((one for one in count.rules.tie_breaks if one.column == column), None)
    if tie_break is None:
        raise KeyError(column)
    cells = table.columns[column]
    if isinstance(cells, DirectColumn):
        return tuple(_direct_encounter(count, index, tie_break, cells))
    return tuple(_OF_TIE_BREAK[tie_break.name](count, index, tie_break))


def _appearances(ledger: Ledger, index: int) -> range:
    return range(int(ledger.starts[index]), int(ledger.starts[index + 1]))


def _edges(ledger: Ledger, index: int) -> range:
    return range(int(ledger.edge_starts[index]), int(ledger.edge_starts[index + 1]))


def _of_appearance(ledger: Ledger, row: int, kind: str, contribution: int, divisor: int = 0) -> Reason:
    first, last = np.searchsorted(ledger.edge_from, [row, row + 1])
    only_one = last - first == 1
    return Reason(
        kind=kind,
        contribution=contribution,
        divisor=divisor,
        game_id=ledger.game_ids[int(ledger.appearances.game[row])],
        round=int(ledger.appearances.round[row]),
        opponent_id=ledger.ids[int(ledger.edge_opponent[first])] if only_one else None,
    )


def _of_edge(ledger: Ledger, edge: int, kind: str, contribution: int) -> Reason:
    row = int(ledger.edge_from[edge])
    return replace(
        _of_appearance(ledger, row, kind, contribution), opponent_id=ledger.ids[int(ledger.edge_opponent[edge])]
    )


def _result_word(ledger: Ledger, row: int) -> str:
    unplayed = int(ledger.appearances.unplayed[row])
    return UNPLAYED_WORDS[unplayed] if unplayed else OUTCOME_WORDS[int(ledger.outcome[row])]


def _game_points(count: Count, index: int) -> Iterator[tuple[int, str, int]]:
    """Row, kind and half-points of everything scored in games and byes."""
    ledger, scheme = count.ledger, count.rules.scheme
    unplayed = ledger.appearances.unplayed
    by_outcome, by_absence = outcome_points(scheme), unplayed_points(scheme)
    earned = [(bonus, bonus_earned(ledger, bonus)) for bonus in scheme.bonuses]
    for row in _appearances(ledger, index):
        if count.left_out[row]:
            yield row, _result_word(ledger, row), 0
            continue
        played = unplayed[row] == PLAYED
        result = by_outcome[ledger.outcome[row]] if played else by_absence[unplayed[row]]
        yield row, _result_word(ledger, row), int(result)
        if played and scheme.showing_up_x2:
            yield row, "showing_up", scheme.showing_up_x2
        for bonus, by_row in earned:
            if by_row[row]:
                yield row, f"bonus:{bonus.label}", bonus.points_x2


def _points(count: Count, index: int) -> Iterator[Reason]:
    ledger, totals = count.ledger, count.totals
    for row, kind, points in _game_points(count, index):
        reason = _of_appearance(ledger, row, kind, points)
        yield replace(reason, note=NOT_AMONG_THE_BEST) if count.left_out[row] else reason
    for bonus in count.rules.scheme.bonuses:
        if bonus.kind == "clean_sweep" and swept(bonus, totals.played[index], totals.won[index]):
            yield Reason(kind=f"bonus:{bonus.label}", contribution=bonus.points_x2)
    for adjustment in count.adjustments:
        if adjustment.entrant_id == ledger.ids[index]:
            yield Reason(
                kind="adjustment", contribution=adjustment.points_x2, round=adjustment.round, note=adjustment.reason
            )


def _points_per_game(count: Count, index: int) -> Iterator[Reason]:
    for reason in _points(count, index):
        is_result = reason.kind in (*OUTCOME_WORDS, *UNPLAYED_WORDS)
        yield replace(reason, divisor=2) if is_result else reason


def _score(count: Count, index: int, mine: int, theirs: int, per: int = 0) -> Iterator[Reason]:
    """`mine` times the own score and `theirs` times the best of the others', over `per` times the latter."""
    ledger = count.ledger
    for row in _appearances(ledger, index):
        own, other = int(ledger.appearances.score[row]), int(ledger.against[row])
        contribution = mine * own + theirs * other
        if contribution or per * other:
            yield _of_appearance(ledger, row, _result_word(ledger, row), contribution, per * other)


def _value_difference(count: Count, index: int, _: TieBreak) -> Iterator[Reason]:
    ledger, rows = count.ledger, count.ledger.appearances
    for row in _appearances(ledger, index):
        yield _of_appearance(ledger, row, _result_word(ledger, row), int(rows.destroyed[row] - rows.lost[row]))


def _count_total(count: Count, index: int, tie_break: TieBreak) -> Iterator[Reason]:
    ledger = count.ledger
    counted = ledger.appearances.counts.get(tie_break.count)
    if counted is None:
        return
    for row in _appearances(ledger, index):
        yield _of_appearance(ledger, row, _result_word(ledger, row), int(counted[row]))


def _wins(count: Count, index: int, tie_break: TieBreak) -> Iterator[Reason]:
    ledger = count.ledger
    for row in _appearances(ledger, index):
        unplayed = ledger.appearances.unplayed[row]
        if (unplayed == PLAYED and ledger.outcome[row] == WIN) or (
            tie_break.with_unplayed and unplayed in (BYE, FORFEIT_WIN)
        ):
            yield _of_appearance(ledger, row, _result_word(ledger, row), 1)


def _progressive(count: Count, index: int, _: TieBreak) -> Iterator[Reason]:
    ledger = count.ledger
    for row, kind, points in _game_points(count, index):
        rounds_left = ledger.rounds - int(ledger.appearances.round[row]) + 1
        yield _of_appearance(ledger, row, kind, points * rounds_left)


def _stand_in(count: Count, entry: int, contribution: int) -> Reason:
    """The opponent that an unplayed round is held to have been played against."""
    ledger, own = count.ledger, count.strengths.own_unplayed
    kind = "virtual_opponent" if count.rules.unplayed_policy == "fide_2009" else "dummy_opponent"
    row = int(own.appearance[entry])
    if row < 0:
        return Reason(kind=kind, contribution=contribution, round=int(own.round[entry]))
    return _of_appearance(ledger, row, kind, contribution)


def _own_unplayed(count: Count, index: int) -> range:
    first, last = np.searchsorted(count.strengths.own_unplayed.owner, [index, index + 1])
    return range(int(first), int(last))


def _buchholz(count: Count, index: int, tie_break: TieBreak) -> Iterator[Reason]:
    """Every opponent, then what is cut again."""
    ledger, own = count.ledger, count.strengths.own_unplayed
    parts = [
        (False, _of_edge(ledger, edge, "played", int(count.edge_values[edge])))
        for edge in _edges(ledger, index)
        if ledger.edge_played[edge]
    ]
    parts += [
        (bool(own.voluntary[entry]), _stand_in(count, entry, int(own.value[entry])))
        for entry in _own_unplayed(count, index)
    ]
    yield from (reason for _, reason in parts)
    low, high = CUTS[tie_break.name]
    parts.sort(key=lambda part: (not part[0], part[1].contribution))
    rest = sorted((reason for _, reason in parts[low:]), key=lambda reason: reason.contribution)
    cut = [reason for _, reason in parts[:low]] + rest[max(0, len(rest) - high) :]
    yield from (replace(reason, kind="cut", contribution=-reason.contribution) for reason in cut)


def _sum_of_buchholz(count: Count, index: int, _: TieBreak) -> Iterator[Reason]:
    ledger = count.ledger
    for edge in _edges(ledger, index):
        if ledger.edge_played[edge]:
            yield _of_edge(ledger, edge, "played", int(count.buchholz[ledger.edge_opponent[edge]]))


def _sonneborn_berger(count: Count, index: int, _: TieBreak) -> Iterator[Reason]:
    ledger, own = count.ledger, count.strengths.own_unplayed
    for edge in _edges(ledger, index):
        if ledger.edge_played[edge]:
            result = int(ledger.edge_result[edge])
            yield _of_edge(ledger, edge, OUTCOME_WORDS[result], int(count.edge_values[edge]) * result)
    for entry in _own_unplayed(count, index):
        yield _stand_in(count, entry, int(own.value[entry] * own.result[entry]))


def _direct_encounter(count: Count, index: int, tie_break: TieBreak, column: DirectColumn) -> Iterator[Reason]:
    """The first piece of each meeting within the group it was first applied to; none for a group that has to wait."""
    ledger = count.ledger
    first = column.applications[0]
    meetings = slice(ledger.edge_starts[index], ledger.edge_starts[index + 1])
    counts = counted_edges(ledger, count.rules)[meetings] & first.applied[index]
    counts &= first.groups[ledger.edge_opponent[meetings]] == first.groups[index]
    edges = np.flatnonzero(counts) + ledger.edge_starts[index]
    values = piece_values(ledger, count.rules, tie_break.pieces[0], edges)
    for edge, value in zip(edges.tolist(), values.tolist(), strict=True):
        unplayed = int(ledger.appearances.unplayed[ledger.edge_from[edge]])
        word = UNPLAYED_WORDS[unplayed] if unplayed else OUTCOME_WORDS[int(ledger.edge_result[edge])]
        yield _of_edge(ledger, edge, word, value)


def _drawn_lot(count: Count, index: int, _: TieBreak) -> Iterator[Reason]:
    yield Reason(kind="lot", contribution=lot(count.rules.seed, count.ledger.ids[index]))


_PLAIN: Final[dict[str, Callable[[Count, int], Iterator[Reason]]]] = {
    "points": _points,
    "points_per_game": _points_per_game,
    "score_for": lambda count, index: _score(count, index, 1, 0),
    "score_against": lambda count, index: _score(count, index, 0, 1),
}

_OF_TIE_BREAK: Final[dict[str, Callable[[Count, int, TieBreak], Iterator[Reason]]]] = {
    **dict.fromkeys(CUTS, _buchholz),
    "sum_of_buchholz": _sum_of_buchholz,
    "sonneborn_berger": _sonneborn_berger,
    "progressive": _progressive,
    "wins": _wins,
    "score_difference": lambda count, index, _: _score(count, index, 1, -1),
    "score_for": lambda count, index, _: _score(count, index, 1, 0),
    "score_average": lambda count, index, _: _score(count, index, 1, 0, 1),
    "value_difference": _value_difference,
    "count_total": _count_total,
    "drawn_lot": _drawn_lot,
}
