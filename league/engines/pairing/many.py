"""A round of tables of three or four."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from typing import Final

import numpy as np

from .check import check_round
from .field import BYE_CRITERIA, Field, field_of, strongest_of
from .model import (
    BadRound,
    Criteria,
    CriterionName,
    Draft,
    DraftBye,
    DraftPairing,
    GaveWay,
    NoRound,
    Pins,
    Player,
    Reason,
    Search,
)
from .words import TITLES, of_bye, of_table, times

SIZES: Final = frozenset({3, 4})
EXACT_UP_TO: Final = 12
NEAR: Final = 60  # places by score within which two may change seats in the search by improvement
CRITERIA_OF_TABLES: Final[tuple[CriterionName, ...]] = ("repeat", "bye", "party", "newcomer", "bye_low", "distance")
USUAL: Final = Criteria(order=CRITERIA_OF_TABLES)

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


def pair_tables(
    players: Sequence[Player],
    *,
    size: int,
    seed: str,
    criteria: Criteria = USUAL,
    pins: Pins = Pins(),  # noqa: B008
) -> Draft:
    """A round in which `size` (three or four) play at each table, with as few tables of the other size as can be, and a
    bye only where no mix of threes and fours fits (one, two or five entrants).

    The cost of a table is the sum over its pairs; what is said of floats and roles is of games of two and refused here.
    Up to twelve entrants the round is the best there is: every arrangement is compared (by dynamic programming over
    who is seated). **For more it is not exact**: the entrants are seated by score and any two, up to sixty places apart,
    change seats as long as that makes the round better; a better one that needs three to move at once may exist, and
    `search.exact` says so. A criterion in `must` that such a round breaks is refused all the same.
    """
    if size not in SIZES:
        raise BadRound((f"Tables have three or four entrants, not {size}.",))
    check_round(players, criteria, pins, SIZES)
    idle = [name for name in criteria.levels if name not in CRITERIA_OF_TABLES]
    if idle:
        raise BadRound(tuple(f"The criterion {name!r} is of games of two only." for name in idle))
    present = [player for player in players if not player.withdrawn]
    fixed = {each for table in pins.pairings for each in table} | set(pins.byes)
    levels = criteria.levels
    strongest = strongest_of(present, seed)
    field = field_of([player for player in present if player.id not in fixed], levels, strongest, seed)
    shape = shape_of(len(field.players), size)
    seated = _seat(field, levels, shape)
    gave_way = tuple(_gave_way(field, levels, shape, seated))
    broken = tuple(each for each in gave_way if each.criterion in criteria.must)
    if broken:
        raise NoRound(tuple(f"What must be kept is broken. {each.words}" for each in broken), broken)
    everybody = field_of(present, levels, strongest, seed)
    place = {player.id: number for number, player in enumerate(everybody.players)}
    pinned = tuple(tuple(place[each] for each in table) for table in pins.pairings)
    free = tuple(tuple(place[field.players[each].id] for each in table) for table in seated.tables)
    return Draft(
        pairings=_pairings(everybody, levels, free, pinned),
        byes=(
            *(_bye(field, levels, each) for each in seated.byes),
            *(DraftBye(id=each, pinned=True) for each in sorted(pins.byes)),
        ),
        totals=tuple((name, _total(field, name, seated)) for name in levels),
        gave_way=gave_way,
        search=Search(exact=seated.exact, possible=seated.tried, examined=seated.tried),
    )


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


def _seat(field: Field, levels: Sequence[CriterionName], shape: Shape) -> Seated:
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
    """Seated by score, then two at a time change seats for the better until nobody can. `shape` has no bye here:
    threes and fours fit every number above five."""
    ranked = np.argsort(-field.points[: len(field.players)], kind="stable").tolist()
    sizes = [4] * shape.fours + [3] * shape.threes
    tables: list[list[int]] = []
    for size in sizes:
        tables.append(ranked[:size])
        ranked = ranked[size:]
    tried = 0
    better = True
    while better:
        better = False
        seats = [(number, seat) for number, table in enumerate(tables) for seat in range(len(table))]
        for at, (here, seat) in enumerate(seats):
            for there, place in seats[at + 1 : at + 1 + NEAR]:
                if here == there:
                    continue
                tried += 1
                if _gain(prices, tables, (here, seat), (there, place)) > 0:
                    tables[here][seat], tables[there][place] = tables[there][place], tables[here][seat]
                    better = True
    return Seated(tables=tuple(tuple(table) for table in tables), byes=(), exact=False, tried=tried)


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


def _table_cost(field: Field, name: CriterionName, table: Sequence[int]) -> int:
    return sum(field.cost(name, one, other) for one, other in combinations(table, 2))


def _bye_cost(field: Field, name: CriterionName, vertex: int) -> int:
    return int((field.byes if name == "bye" else field.above_lowest)[vertex])


def _total(field: Field, name: CriterionName, seated: Seated) -> int:
    if name in BYE_CRITERIA:
        return sum(_bye_cost(field, name, each) for each in seated.byes)
    return sum(_table_cost(field, name, table) for table in seated.tables)


def _gave_way(field: Field, levels: Sequence[CriterionName], shape: Shape, seated: Seated) -> Iterator[GaveWay]:
    for name in levels:
        total = _total(field, name, seated)
        if not total:
            continue
        cost: Callable[..., int] = _bye_cost if name in BYE_CRITERIA else _table_cost
        groups = [(each, (each,)) for each in seated.byes] if name in BYE_CRITERIA else [(t, t) for t in seated.tables]
        where = tuple(
            tuple(field.players[each].id for each in members) for key, members in groups if cost(field, name, key)
        )
        never: bool | None = None
        why = "A better round may exist: this one was found by improvement."
        if seated.exact:
            never = _total(field, name, _seat(field, [name], shape)) > 0
            why = "No round at all avoids it." if never else "Every round that keeps it is worse in a criterion above."
        words = f"{TITLES[name]}: gave way {times(len(where))}. {why}"
        yield GaveWay(criterion=name, total=total, where=where, unavoidable=never, words=words)


def _pairings(field: Field, levels: Sequence[CriterionName], free: Tables, pinned: Tables) -> tuple[DraftPairing, ...]:
    def board(entry: tuple[tuple[int, ...], bool]) -> tuple[list[int], int]:
        return sorted(-int(field.points[each]) for each in entry[0]), min(entry[0])

    entries = [(table, False) for table in free] + [(table, True) for table in pinned]
    return tuple(
        DraftPairing(
            ids=tuple(field.players[each].id for each in sorted(table)),
            pinned=is_pinned,
            reasons=tuple(_reason(field, name, table) for name in levels if name not in BYE_CRITERIA),
        )
        for table, is_pinned in sorted(entries, key=board)
    )


def _reason(field: Field, name: CriterionName, table: Sequence[int]) -> Reason:
    cost = _table_cost(field, name, table)
    guilty = [
        (field.players[one], field.players[other])
        for one, other in combinations(sorted(table), 2)
        if field.cost(name, one, other)
    ]
    return Reason(
        criterion=name, cost=cost, words=of_table(name, guilty, [field.players[each] for each in sorted(table)])
    )


def _bye(field: Field, levels: Sequence[CriterionName], vertex: int) -> DraftBye:
    player = field.players[vertex]
    reasons = tuple(
        Reason(criterion=name, cost=cost, words=of_bye(name, cost, player))
        for name in levels
        if name in BYE_CRITERIA
        for cost in [_bye_cost(field, name, vertex)]
    )
    return DraftBye(id=player.id, reasons=reasons)
