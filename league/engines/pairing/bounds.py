"""Lower bounds: which pairings can be left out of the search because any round with them is worse than one in hand.

Let V be the costs of a round in hand, criterion by criterion, and b(e) a lower bound, criterion by criterion, on the
costs of every round with the pairing e that is no worse than V in the criteria before. If b(e) is not before V in the
order of the criteria, no round with e is better than the one in hand, and e may be left out. What is left holds every
round that is better, so the best among it and the round in hand is the best of all.

For every criterion b(e) is the cost of e and half of what each of the others costs at least, wherever they are paired
(two of them share a pairing), or what the dearest of them costs. Distance has bounds of its own (`distance`),
and so have floats and roles (`kinds`).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from .distance import distance_bound
from .field import Field, Flags
from .kinds import BOUNDED, bound_by_kinds
from .matching import Ints
from .model import CriterionName

FEW: Final = 16  # pairs an entrant; so many are matched sooner than bounded


def may_improve(field: Field, levels: Sequence[CriterionName], first: Ints, second: Ints, best: Sequence[int]) -> Flags:
    """Which of the pairs may be part of a round better than one of the costs `best`."""
    kept = np.zeros(len(first), dtype=np.bool_)
    level_so_far = np.arange(len(first))
    takers = np.arange(len(field.players))
    reached: dict[CriterionName, int] = {}
    for criterion, known in zip(levels, best, strict=True):
        one, other = first[level_so_far], second[level_so_far]
        bound = field.costs(criterion, one, other)
        if known:
            # No round as good so far has any other pairs than these.
            allowed = kept.copy()
            allowed[level_so_far] = True
            here, there = first[allowed], second[allowed]
            bound = bound + _elsewhere(_least(field, criterion, here, there), one, other)
            if criterion == "distance":
                bound = np.maximum(bound, distance_bound(field, (here, there), (one, other), takers))
            elif criterion in BOUNDED and len(one) > FEW * field.vertices:
                far = reached.get("distance")
                bound = np.maximum(bound, bound_by_kinds(field, criterion, (here, there), (one, other), distance=far))
        reached[criterion] = known
        kept[level_so_far[bound < known]] = True
        level_so_far = level_so_far[bound == known]
        if field.bye_vertex is not None:
            bye = np.full(len(takers), field.bye_vertex)
            takers = takers[field.costs(criterion, takers, bye) <= known]
    return kept


def _least(field: Field, criterion: CriterionName, first: Ints, second: Ints) -> Ints:
    """What each vertex costs at least, whichever of these pairs it is in."""
    costs = field.costs(criterion, first, second)
    least = np.full(field.vertices, np.iinfo(np.int64).max)
    np.minimum.at(least, first, costs)
    np.minimum.at(least, second, costs)
    return least


def _elsewhere(least: Ints, first: Ints, second: Ints) -> Ints:
    """What the rest of a round costs at least beside each pair: half of all the others, and the dearest of them."""
    rest = least.sum() - least[first] - least[second]
    dearest = int(least.argmax())
    apart = (first != dearest) & (second != dearest)
    half: Ints = np.maximum((rest + 1) // 2, np.where(apart, least[dearest], 0))
    return half
