"""Good plans for what costs once whatever the amount: people who come, holdings that are packed.

Each piece is charged its share of the whole charge by the amounts of the plan in hand, which makes a linear programme;
its solution gives new amounts, and so on (dynamic slope scaling; D. Kim and P. M. Pardalos, Operations Research Letters
24, 1999, 195-203). It proves nothing; it gives the exact search a good plan to start from.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

import numpy as np

from .layout import Layout
from .model import Level
from .program import Ints, Program, bound_of, keep_best
from .solver import solve_relaxed

ROUNDS: Final = 4
CHARGE: Final = 10_000


def cheaper_points(
    layout: Layout, level: Level, point: Ints, settled: Sequence[tuple[Ints, int]], left: Callable[[], float]
) -> Iterator[Ints]:
    """Points near one in hand that may have fewer charges; the caller tries whether they are allowed and cheaper.

    Looks stay as they are, for lines also who comes; `settled` are the costs of earlier levels that are kept by a row.
    """
    groups = _groups(layout, level)
    program = layout.program.copy()
    _fix(program, layout.looks.values(), point)
    if level == "lines":
        _fix(program, (column for column in layout.comes.values() if not point[column]), point)
    for costs, value in settled:
        _settle(program, costs, value, left)
    amounts = np.asarray([sum(program.upper[column] for column in group) for group in groups], dtype=np.int64)
    for _ in range(ROUNDS):
        costs = np.zeros(len(program.lower), dtype=np.int64)
        for group, amount in zip(groups, amounts.tolist(), strict=True):
            costs[group] = max(1, CHARGE // max(amount, 1))
        relaxed = solve_relaxed(program, costs, left())
        if relaxed is None:
            return
        found = np.rint(relaxed.point).astype(np.int64)
        yield layout.charged(found)
        now = np.asarray([found[group].sum() for group in groups])
        amounts = np.where(now > 0, now, np.maximum(amounts // 2, 1))


def _groups(layout: Layout, level: Level) -> list[list[int]]:
    if level == "lines":
        return [[layout.taken[at]] for at in layout.packs]
    return [
        [layout.taken[at] for at in layout.facts.supplies_by[number] if at in layout.packs] for number in layout.comes
    ]


def _fix(program: Program, columns: Iterable[int], point: Ints) -> None:
    for column in columns:
        program.lower[column] = program.upper[column] = int(point[column])


def _settle(program: Program, costs: Ints, value: int, left: Callable[[], float]) -> None:
    """With the looks as they are, an earlier level may be kept by bounds alone, as in a network."""
    costs = np.concatenate([costs, np.zeros(len(program.lower) - len(costs), dtype=np.int64)])
    relaxed = solve_relaxed(program, costs, left())
    bound = None if relaxed is None else bound_of(program, costs, relaxed.prices, 1)
    if bound is not None and bound.total == value:
        keep_best(program, bound)
