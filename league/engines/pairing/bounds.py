"""Lower bounds: which pairings can be left out of the search because any round with them is worse than one in hand.

Let V be the costs of a round in hand, criterion by criterion, and b(e) a lower bound, criterion by criterion, on the
costs of every round with the pairing e that is no worse than V in the criteria before. If b(e) is not before V in the
order of the criteria, no round with e is better than the one in hand, and e may be left out. What is left holds every
round that is better, so the best among it and the round in hand is the best of all.

For every criterion b(e) is the cost of e and half of what each of the others costs at least, wherever they are paired
(two of them share a pairing), or what the dearest of them costs. Distance has a second bound. Cut the scores between two neighbouring values, a gap of g apart: the distance of a round is the sum over the cuts of g
times the pairings that cross. How many cross at least:

- if an odd number of entrants is to be paired above the cut, an odd number of pairings crosses, else an even one;
- near either end, what the best matching among those beyond the cut leaves over has to cross.

A pairing that crosses a cut which needs none makes it two, by the first rule. Where it depends on who has the bye
whether the number above is odd, the first rule says nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from .field import Field, Flags
from .matching import Ints, lightest_matching
from .model import CriterionName

END: Final = 64  # how many from either end are looked at for the second rule


@dataclass(frozen=True, kw_only=True, slots=True)
class Cuts:
    """The cuts between neighbouring scores, from the lowest up: how many pairings cross at least (`need`), how many
    more if one given pairing crosses (`more`), the `gaps`; `place` is the score of each player by rank from below."""

    gaps: Ints
    need: Ints
    more: Ints
    place: Ints

    def bound(self, field: Field, first: Ints, second: Ints) -> Ints:
        """The least distance of a round with each pair."""
        least = int((self.gaps * self.need).sum())
        upto = np.concatenate(([0], np.cumsum(self.gaps * self.more)))
        at = np.concatenate((self.place, [0]))
        bound = least + np.abs(upto[at[first]] - upto[at[second]])
        return np.where(second == field.bye_vertex, least, bound) if field.bye_vertex is not None else bound


def may_improve(field: Field, levels: Sequence[CriterionName], first: Ints, second: Ints, best: Sequence[int]) -> Flags:
    """Which of the pairs may be part of a round better than one of the costs `best`."""
    kept = np.zeros(len(first), dtype=np.bool_)
    level_so_far = np.arange(len(first))
    takers = np.arange(len(field.players))
    for criterion, known in zip(levels, best, strict=True):
        one, other = first[level_so_far], second[level_so_far]
        bound = field.costs(criterion, one, other)
        if known:
            # No round as good so far has any other pairs than these.
            allowed = kept.copy()
            allowed[level_so_far] = True
            bound = bound + _elsewhere(_least(field, criterion, first[allowed], second[allowed]), one, other)
            if criterion == "distance":
                cuts = _cuts(field, first[allowed], second[allowed], takers)
                bound = np.maximum(bound, cuts.bound(field, one, other))
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


def _cuts(field: Field, first: Ints, second: Ints, takers: Ints) -> Cuts:
    """The cuts of a field in which the bye goes to one of the `takers` and only these pairs are played."""
    players = len(field.players)
    scores, place = np.unique(field.points[:players], return_inverse=True)
    cuts = np.arange(len(scores) - 1)
    below = np.cumsum(np.bincount(place, minlength=len(scores)))[:-1]
    above = players - below
    # Cuts under the lowest who may have the bye have the bye above them; those over the highest have it below.
    lowest, highest = (int(place[takers].min()), int(place[takers].max())) if len(takers) else (0, len(cuts))
    bye = field.bye_vertex is not None
    bye_may_be_above = (cuts < highest) & bye
    bye_is_above = (cuts < lowest) & bye
    unsure = bye_may_be_above & ~bye_is_above
    odd = ((above - bye_is_above) % 2 == 1) & ~unsure
    games = second < players
    first, second = first[games], second[games]
    need = odd.astype(np.int64)
    for cut in np.flatnonzero(above <= END):
        left = _left_over(place > cut, first, second) - bool(bye_may_be_above[cut])
        need[cut] = max(need[cut], left)
    for cut in np.flatnonzero(below <= END):
        left = _left_over(place <= cut, first, second) - bool(bye and not bye_is_above[cut])
        need[cut] = max(need[cut], left)
    return Cuts(gaps=np.diff(scores), need=need, more=np.where(need > 0, 0, np.where(unsure, 1, 2)), place=place)


def _left_over(beyond: Flags, first: Ints, second: Ints) -> int:
    """How many of those beyond a cut the best matching among themselves leaves over."""
    within = beyond[first] & beyond[second]
    number = np.cumsum(beyond) - 1
    one, other = number[first[within]], number[second[within]]
    size = int(beyond.sum())
    return size - 2 * len(lightest_matching(size, one, other, [0] * len(one)))
