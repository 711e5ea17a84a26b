"""How a round of tables of three and four is searched: all arrangements of a few, improvement for more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from typing import Final

import numpy as np

from .field import BYE_CRITERIA, Field
from .lots import lot
from .model import CriterionName

EXACT_UP_TO: Final = 12
NEAR: Final = 60  # places by score within which two may change seats in the search by improvement
STARTS: Final = 8
SEVERAL_STARTS_UP_TO: Final = 80

Tables = tuple[tuple[int, ...], ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Shape:
    """How many tables of four and of three, and how many sit out."""

    fours: int
    threes: int
    byes: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Prices:
    """All criteria packed into one number: of two at one table, and of sitting out. Python's numbers have no limit."""

    together: list[list[int]]
    sitting_out: list[int]

    def table(self, members: Sequence[int]) -> int:
        return sum(self.together[one][other] for one, other in combinations(members, 2))


@dataclass(frozen=True, kw_only=True, slots=True)
class Seated:
    tables: Tables
    byes: tuple[int, ...]
    exact: bool
    tried: int


def shape_of(entrants: int, size: int) -> Shape:
    """The tables for so many: first as few byes as can be, then as few tables of the other size."""
    other = 7 - size
    for byes in range(entrants + 1):
        seated = entrants - byes
        for others in range(seated // other + 1):
            if (seated - others * other) % size == 0:
                counts = {size: (seated - others * other) // size, other: others}
                return Shape(fours=counts[4], threes=counts[3], byes=byes)
    raise AssertionError  # all of them can sit out


def seat_all(field: Field, levels: Sequence[CriterionName], shape: Shape) -> Seated:
    prices = _prices(field, levels)
    if len(field.players) <= EXACT_UP_TO:
        return _best(len(field.players), shape, prices)
    return _improved(field, shape, prices)


def _prices(field: Field, levels: Sequence[CriterionName]) -> Prices:
    size = len(field.players)
    first, second = (side.astype(np.int64) for side in np.triu_indices(size, 1))
    together = [[0] * size for _ in range(size)]
    sitting_out = [0] * size
    room = 1
    for name in reversed(levels):
        if name in BYE_CRITERIA:
            costs = (field.byes if name == "bye" else field.above_lowest)[:size].tolist()
            sitting_out = [price + room * cost for price, cost in zip(sitting_out, costs, strict=True)]
            room *= max(costs, default=0) * size + 1
            continue
        found = field.costs(name, first, second).tolist()
        for one, other, cost in zip(first.tolist(), second.tolist(), found, strict=True):
            together[one][other] += room * cost
            together[other][one] += room * cost
        # Each entrant is in three pairs at most, each pair has two.
        room *= max(found, default=0) * 3 * size + 1
    return Prices(together=together, sitting_out=sitting_out)


def _best(entrants: int, shape: Shape, prices: Prices) -> Seated:
    """Every arrangement compared: the first who is not seated yet sits out, or shares a table with any others."""
    tried = 0

    @cache
    def best(left: frozenset[int], fours: int, threes: int, byes: int) -> tuple[int, Tables, tuple[int, ...]] | None:
        nonlocal tried
        if not left:
            return 0, (), ()
        first = min(left)
        options: list[tuple[int, Tables, tuple[int, ...]]] = []
        if byes and (rest := best(left - {first}, fours, threes, byes - 1)):
            options.append((prices.sitting_out[first] + rest[0], rest[1], (first, *rest[2])))
        for size, there in ((4, fours), (3, threes)):
            if not there:
                continue
            for others in combinations(sorted(left - {first}), size - 1):
                tried += 1
                table = (first, *others)
                rest = best(left - set(table), fours - (size == 4), threes - (size == 3), byes)  # noqa: PLR2004 - its size
                if rest:
                    options.append((prices.table(table) + rest[0], (table, *rest[1]), rest[2]))
        return min(options, key=lambda option: option[0], default=None)

    found = best(frozenset(range(entrants)), shape.fours, shape.threes, shape.byes)
    assert found is not None, "the shape seats everybody"
    return Seated(tables=found[1], byes=found[2], exact=True, tried=tried)


def _improved(field: Field, shape: Shape, prices: Prices) -> Seated:
    """The best of several searches: each starts with the entrants seated by score and then by lots of its own, and two
    at a time change seats for the better until nobody can. `shape` has no bye here: threes and fours fit every number
    above five."""
    found: list[tuple[int, int, list[list[int]]]] = []
    tried = 0
    for start in range(STARTS if len(field.players) <= SEVERAL_STARTS_UP_TO else 1):
        tables = _by_score(field, shape, start)
        tried += _improve(prices, tables)
        found.append((sum(prices.table(table) for table in tables), start, tables))
    best = min(found)[2]
    return Seated(tables=tuple(tuple(table) for table in best), byes=(), exact=False, tried=tried)


def _by_score(field: Field, shape: Shape, start: int) -> list[list[int]]:
    drawn = range(len(field.players))
    ranked = sorted(drawn, key=lambda each: (-int(field.points[each]), lot(str(start), str(each)) if start else each))
    tables: list[list[int]] = []
    for size in [4] * shape.fours + [3] * shape.threes:
        tables.append(ranked[:size])
        ranked = ranked[size:]
    return tables


def _improve(prices: Prices, tables: list[list[int]]) -> int:
    """Change seats in place; how many changes were looked at."""
    seats = [(number, seat) for number, table in enumerate(tables) for seat in range(len(table))]
    tried = 0
    better = True
    while better:
        better = False
        for at, (here, seat) in enumerate(seats):
            for there, place in seats[at + 1 : at + 1 + NEAR]:
                if here == there:
                    continue
                tried += 1
                if _gain(prices, tables, (here, seat), (there, place)) > 0:
                    tables[here][seat], tables[there][place] = tables[there][place], tables[here][seat]
                    better = True
    return tried


def _gain(prices: Prices, tables: list[list[int]], one: tuple[int, int], other: tuple[int, int]) -> int:
    """What is saved if two change seats."""
    mine, yours = tables[one[0]], tables[other[0]]
    me, you = mine[one[1]], yours[other[1]]
    with_me, with_you = prices.together[me], prices.together[you]
    gain = 0
    for each in mine:
        if each != me:
            gain += with_me[each] - with_you[each]
    for each in yours:
        if each != you:
            gain += with_you[each] - with_me[each]
    return gain
