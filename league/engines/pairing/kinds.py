"""Lower bounds on floats and roles, by kinds of entrant.

What a pairing costs by floats or by roles depends on few things: the points of the two, how often each floated, which
role each needs. Entrants alike in these are of one kind. How many pairings of each two kinds a round has satisfies:

* every entrant is in one of them;
* an odd number of entrants, those of one score or those from one score upwards, is left by one pairing at least;
* the distance is what it is known to be, where it comes before in the order.

The least cost over all (also fractional) numbers that satisfy these is a linear programme of some hundred unknowns. Its
prices, one for each demand, bound the cost of every round from below: sum of the prices, and what a pairing costs more
than the prices of what it serves. HiGHS reckons with floats, so the prices are only a proposal: they are made whole in
units of 1 / `UNITS` and lowered until no pairing costs less than what it serves, checked in whole numbers. The bound is
true whatever HiGHS said, if less sharp where it erred.

That odd sets make the fractional least nearly the whole one is J. Edmonds, "Maximum matching and a polyhedron with
0,1-vertices" (1965), from memory.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

import highspy
import numpy as np
from numpy.typing import NDArray

from .field import Field, Flags
from .matching import Ints
from .model import CriterionName

UNITS: Final = 1 << 20
LARGEST: Final = 1 << 60
MOST_KINDS: Final = 2_000
MOST_CELLS: Final = 20_000
# One thread and one seed: the same answer on every machine.
OPTIONS: Final[Mapping[str, bool | int | str]] = {"output_flag": False, "threads": 1, "random_seed": 0}
BY_ROLE: Final[frozenset[CriterionName]] = frozenset({"role_limit", "roles"})
BOUNDED: Final[frozenset[CriterionName]] = frozenset({"floats", *BY_ROLE})

Floats = NDArray[np.float64]
Pairs = tuple[Ints, Ints]


@dataclass(frozen=True, kw_only=True, slots=True)
class Demand:
    """What the pairings of a round serve together: `served` by each, `at_least` in all, no more if `exactly`."""

    served: Ints
    at_least: int
    exactly: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Programme:
    """Kinds of entrant, and one example of a pairing of every two kinds that may be paired: `first` and `second` are
    vertices, `cell` is where such a pairing stands in a square of the kinds."""

    kind: Ints
    counts: Ints
    cell: Ints
    first: Ints
    second: Ints
    costs: Ints
    demands: tuple[Demand, ...]

    @property
    def kinds(self) -> int:
        return len(self.counts)


def bound_by_kinds(
    field: Field, criterion: CriterionName, allowed: Pairs, pairs: Pairs, *, distance: int | None = None
) -> Ints:
    """The least cost of any round with each of `pairs`, if only `allowed` ones are played; `pairs` are among them.
    With `distance`, of rounds that come to exactly that."""
    costs = field.costs(criterion, *pairs)
    programme = _programme(field, criterion, allowed, distance)
    if programme is None:
        return costs
    least, above = _in_whole_numbers(programme, *_prices(programme))
    over = np.zeros(programme.kinds**2, dtype=np.int64)
    over[programme.cell] = above
    bound: Ints = -((-least - over[_cells(programme.kind, programme.kinds, *pairs)]) // UNITS)
    return np.maximum(costs, bound)


def least_by_kinds(field: Field, criterion: CriterionName) -> int:
    """No round at all costs less by this criterion."""
    if criterion not in BOUNDED:
        return 0
    everything = tuple(side.astype(np.int64) for side in np.triu_indices(field.vertices, 1))
    programme = _programme(field, criterion, (everything[0], everything[1]), None)
    if programme is None:
        return 0
    least, _ = _in_whole_numbers(programme, *_prices(programme))
    return max(0, -(-least // UNITS))


def _programme(field: Field, criterion: CriterionName, allowed: Pairs, distance: int | None) -> Programme | None:
    """None where there are too many kinds, or the numbers are too large to be reckoned with safely."""
    kind = _kinds(field, criterion)
    counts = np.bincount(kind)
    if len(counts) > MOST_KINDS:
        return None
    example = np.full(len(counts) ** 2, -1, dtype=np.int64)
    cells = _cells(kind, len(counts), *allowed)
    example[cells] = np.arange(len(cells))
    cell = np.flatnonzero(example >= 0)
    if len(cell) > MOST_CELLS:
        return None
    first, second = (side[example[cell]] for side in allowed)
    costs = field.costs(criterion, first, second)
    demands = list(_odd_sets(field, first, second))
    if distance is not None:
        demands.append(Demand(served=field.costs("distance", first, second), at_least=distance, exactly=True))
    largest = max(int(costs.max(initial=0)), *(int(demand.served.max(initial=0)) for demand in demands), 1)
    if largest * UNITS * field.vertices >= LARGEST:
        return None
    return Programme(
        kind=kind, counts=counts, cell=cell, first=first, second=second, costs=costs, demands=tuple(demands)
    )


def _kinds(field: Field, criterion: CriterionName) -> Ints:
    told = [*field.over, *field.wrong] if criterion in BY_ROLE else [field.downs, field.ups]
    is_bye = np.zeros(field.vertices, dtype=np.int64)
    if field.bye_vertex is not None:
        is_bye[field.bye_vertex] = 1
    _, kind = np.unique(np.stack([field.points, is_bye, *told]), axis=1, return_inverse=True)
    return np.asarray(kind, dtype=np.int64).ravel()


def _cells(kind: Ints, kinds: int, first: Ints, second: Ints) -> Ints:
    one, other = kind[first], kind[second]
    cells: Ints = np.minimum(one, other) * kinds + np.maximum(one, other)
    return cells


def _odd_sets(field: Field, first: Ints, second: Ints) -> Iterator[Demand]:
    """Those of one score, and those from one score upwards, each with the bye or without: whichever are odd."""
    players = len(field.players)
    for score in np.unique(field.points[:players]):
        for inside in (field.points == score, field.points >= score):
            for with_bye in (False, True) if field.bye_vertex is not None else (False,):
                members: Flags = inside.copy()
                members[players:] = with_bye
                if members.sum() % 2:
                    leaves = (members[first] != members[second]).astype(np.int64)
                    yield Demand(served=leaves, at_least=1, exactly=False)


def _prices(programme: Programme) -> tuple[Floats, Floats]:
    """What HiGHS proposes: a price for an entrant of each kind, and one for every demand; nothing if it fails."""
    kinds, cells = programme.kinds, len(programme.cell)
    column, row, value = _entries(programme)
    wanted = np.concatenate([programme.counts, [demand.at_least for demand in programme.demands]]).astype(np.float64)
    loose = np.concatenate([np.zeros(kinds, dtype=np.bool_), [not demand.exactly for demand in programme.demands]])
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = cells, len(wanted)
    lp.col_cost_ = programme.costs.astype(np.float64)
    lp.col_lower_, lp.col_upper_ = np.zeros(cells), np.full(cells, highspy.kHighsInf)
    lp.row_lower_, lp.row_upper_ = wanted, np.where(loose, highspy.kHighsInf, wanted)
    lp.a_matrix_.start_ = np.searchsorted(column, np.arange(cells + 1)).astype(np.int32)
    lp.a_matrix_.index_ = row.astype(np.int32)
    lp.a_matrix_.value_ = value.astype(np.float64)
    # The class beneath highspy.Highs, which greets on standard output before it can be told not to.
    solver = highspy._Highs()  # type: ignore[attr-defined]  # noqa: SLF001
    for name, setting in OPTIONS.items():
        solver.setOptionValue(name, setting)
    solver.passModel(lp)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return np.zeros(kinds), np.zeros(len(programme.demands))
    prices = np.array(solver.getSolution().row_dual, dtype=np.float64)
    return prices[:kinds], prices[kinds:]


def _entries(programme: Programme) -> tuple[Ints, Ints, Ints]:
    """The matrix by column (cell), row (kind, then demand) and value, what is not nought."""
    number = np.arange(len(programme.cell))
    one, other = programme.kind[programme.first], programme.kind[programme.second]
    twice = one == other
    columns, rows = [number, number[~twice]], [one, other[~twice]]
    values = [np.where(twice, 2, 1), np.ones(int((~twice).sum()), dtype=np.int64)]
    for place, demand in enumerate(programme.demands, start=programme.kinds):
        serving = np.flatnonzero(demand.served)
        columns.append(serving)
        rows.append(np.full(len(serving), place))
        values.append(demand.served[serving])
    column, row, value = (np.concatenate(each) for each in (columns, rows, values))
    order = np.lexsort((row, column))
    return column[order], row[order], value[order]


def _in_whole_numbers(programme: Programme, prices: Floats, extra: Floats) -> tuple[int, Ints]:
    """The least cost of a round, and by how much each cell's pairing is over it, in units: both proven here."""
    if max(np.abs(prices).max(initial=0), np.abs(extra).max(initial=0)) * UNITS * len(prices) >= LARGEST:
        prices, extra = np.zeros_like(prices), np.zeros_like(extra)
    price = np.floor(prices * UNITS).astype(np.int64)
    above = programme.costs * UNITS - price[programme.kind[programme.first]] - price[programme.kind[programme.second]]
    least = 0
    for demand, proposed in zip(programme.demands, extra.tolist(), strict=True):
        # A demand that may be overfulfilled must have no price below nought.
        each = round(proposed * UNITS) if demand.exactly else max(0, round(proposed * UNITS))
        above = above - each * demand.served
        least += each * demand.at_least
    too_dear = -(int(above.min(initial=0)) // 2)
    above = above + 2 * too_dear
    least += sum((one - too_dear) * count for one, count in zip(price.tolist(), programme.counts.tolist(), strict=True))
    return least, above
