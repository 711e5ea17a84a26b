"""The best round of a field, by the criteria in their order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from .bounds import may_improve
from .field import Field
from .matching import Ints, Level, lightest_matching, pack
from .model import CriterionName

SMALL: Final = 200  # up to here all pairings are compared at once
NEIGHBOURS: Final = 12


@dataclass(frozen=True, kw_only=True, slots=True)
class Found:
    """The pairs of the best round by vertex, its total by level, and how many pairs were compared."""

    pairs: tuple[tuple[int, int], ...]
    totals: tuple[int, ...]
    possible: int
    examined: int
    bits: int


def best_round(field: Field, levels: Sequence[CriterionName]) -> Found:
    """The exact optimum over all pairings.

    A large field is paired in two steps: first among neighbours by score, which gives a good round quickly, then among
    all pairs that could still be part of a better one (`bounds`). Usually these are few, with distance early in the
    order, often none; if the bounds rule nothing out, all pairs are compared, which is as exact and takes longer: of
    2,000 entrants some six seconds.
    """
    if not field.vertices:
        return Found(pairs=(), totals=(0,) * len(levels), possible=0, examined=0, bits=0)
    first, second = (side.astype(np.int64) for side in np.triu_indices(field.vertices, 1))
    possible = len(first)
    if field.vertices <= SMALL:
        return _solve(field, levels, first, second, possible)
    near = neighbours(field)
    at_hand = _solve(field, levels, *near, possible)
    kept = may_improve(field, levels, first, second, at_hand.totals)
    if not kept.any():
        return Found(
            pairs=at_hand.pairs, totals=at_hand.totals, possible=possible, examined=at_hand.examined, bits=at_hand.bits
        )
    # The round in hand stays possible, so that there always is one.
    for one, other in at_hand.pairs:
        kept[_place(field.vertices, one, other)] = True
    return _solve(field, levels, first[kept], second[kept], possible)


def _solve(field: Field, levels: Sequence[CriterionName], first: Ints, second: Ints, possible: int) -> Found:
    costs = [field.costs(criterion, first, second) for criterion in levels]
    packed = pack(
        [Level(costs=cost, at_most=field.at_most(name)) for name, cost in zip(levels, costs, strict=True)], len(first)
    )
    pairs = lightest_matching(field.vertices, first, second, packed.weights)
    one = np.array([pair[0] for pair in pairs], dtype=np.int64)
    other = np.array([pair[1] for pair in pairs], dtype=np.int64)
    return Found(
        pairs=tuple(pairs),
        totals=tuple(int(field.costs(criterion, one, other).sum()) for criterion in levels),
        possible=possible,
        examined=len(first),
        bits=packed.bits,
    )


def neighbours(field: Field) -> tuple[Ints, Ints]:
    """Pairs a few places apart by score and lot, or by score and need of a role, and everybody with the bye. They
    always hold a whole round."""
    size = len(field.players)
    ones, others = [], []
    for ranked in (np.argsort(-field.points[:size], kind="stable"), _by_turns(field)):
        ones += [ranked[:-step] for step in range(1, NEIGHBOURS + 1)]
        others += [ranked[step:] for step in range(1, NEIGHBOURS + 1)]
    if field.bye_vertex is not None:
        ones.append(np.arange(size))
        others.append(np.full(size, field.bye_vertex))
    one, other = np.concatenate(ones), np.concatenate(others)
    once = np.unique(np.minimum(one, other) * field.vertices + np.maximum(one, other))
    return once // field.vertices, once % field.vertices


def _by_turns(field: Field) -> Ints:
    """The entrants by score, and within one score by turns who should attack and who should defend."""
    size = len(field.players)
    lean = np.sign(field.wrong[0] - field.wrong[1])[:size]
    turn = np.zeros(size, dtype=np.int64)
    _, place = np.unique(np.stack([field.points[:size], lean]), axis=1, return_inverse=True)
    order = np.argsort(place.ravel(), kind="stable")
    starts = np.concatenate(([0], np.cumsum(np.bincount(place.ravel()))))
    turn[order] = np.arange(size) - starts[place.ravel()[order]]
    return np.lexsort((lean, turn, -field.points[:size]))


def _place(vertices: int, one: int, other: int) -> int:
    """Where the pair stands among all pairs in rising order."""
    return one * (2 * vertices - one - 1) // 2 + other - one - 1
