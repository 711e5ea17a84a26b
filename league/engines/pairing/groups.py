"""A group stage: into groups by the snake, and out of the groups into a knock-out."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .knockout import seed_places
from .matching import Level, lightest_matching, pack
from .model import BadRound


def snake_groups(ids: Sequence[str], groups: int) -> tuple[tuple[str, ...], ...]:
    """Entrants, the strongest first, into groups: forwards, then backwards, and so on (common practice, no source).
    Sizes differ by one at most."""
    if not 0 < groups <= len(ids):
        raise BadRound((f"{len(ids)} entrants cannot be put into {groups} groups.",))
    found: list[list[str]] = [[] for _ in range(groups)]
    for number, each in enumerate(ids):
        lap, step = divmod(number, groups)
        found[groups - 1 - step if lap % 2 else step].append(each)
    return tuple(tuple(group) for group in found)


def seeds_from_groups(tables: Sequence[Sequence[str]], *, through: int) -> tuple[str, ...]:
    """The seeding of a knock-out: the first of every group in the order of the groups, then the seconds, and so on.

    Those in the lower half of the bracket's seeds then change places, as little as possible, so that as few as
    possible meet somebody of their own group in the first round.
    """
    short = [number for number, table in enumerate(tables, start=1) if len(table) < through]
    if short or through < 1:
        raise BadRound(
            tuple(f"Group {number} has fewer than {through} entrants." for number in short)
            or ("Nobody goes through from the groups.",)
        )
    seeded = [(table[place], group) for place in range(through) for group, table in enumerate(tables)]
    size = len(seed_places(len(seeded)))
    lower = list(range(size // 2, len(seeded)))
    if not lower:
        return tuple(entrant for entrant, _ in seeded)
    edges = [(mover, seat) for mover in range(len(lower)) for seat in range(len(lower))]
    met = [int(seeded[lower[mover]][1] == seeded[size - 1 - lower[seat]][1]) for mover, seat in edges]
    moved = [abs(mover - seat) for mover, seat in edges]
    packed = pack(
        [Level(costs=np.array(costs, dtype=np.int64), at_most=len(lower)) for costs in (met, moved)], len(edges)
    )
    movers = np.array([mover for mover, _ in edges], dtype=np.int64)
    seats = np.array([len(lower) + seat for _, seat in edges], dtype=np.int64)
    matched = lightest_matching(2 * len(lower), movers, seats, packed.weights)
    placed = list(seeded)
    for mover, seat in matched:
        placed[lower[seat - len(lower)]] = seeded[lower[mover]]
    return tuple(entrant for entrant, _ in placed)
