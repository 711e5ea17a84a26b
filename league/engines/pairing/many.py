"""A round of tables of three or four."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations
from typing import Final

from .arrange import Seated, Shape, Tables, seat_all, shape_of
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
CRITERIA_OF_TABLES: Final[tuple[CriterionName, ...]] = ("repeat", "bye", "party", "newcomer", "bye_low", "distance")
USUAL: Final = Criteria(order=CRITERIA_OF_TABLES)


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
    change seats as long as that makes the round better, from several starts up to 80 entrants; a better round that
    needs three to move at once may exist, and `search.exact` says so. A criterion in `must` that such a round breaks is refused all the same.
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
    seated = seat_all(field, levels, shape)
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
            never = _total(field, name, seat_all(field, [name], shape)) > 0
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
