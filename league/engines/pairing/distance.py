"""Lower bounds on the distance of a round: the half-points between opponents, summed.

Cut the scores between two neighbouring values, a gap of g apart. The distance of a round is the sum over the cuts of g
times the pairings that cross. If an odd number of entrants to be paired is above a cut, an odd number of pairings
crosses it, one at least; if even, an even number, so that a pairing which crosses does not do so alone. Where it
depends on who has the bye whether the number above is odd, a cut says nothing but that what crosses costs g.

Few entrants may have met too often for that to be within reach, at the ends of the table above all. So the scores are
parted into stretches, and in each the least distance within the stretch is found exactly, whatever happens outside:
a lightest matching in which two who may not be paired, or want not to be, leave the stretch together by the same end,
and one more leaves by each end that an odd number crosses. What a stretch costs beyond its cuts is its excess.

The bound of a pairing e is the sum over the stretches, and what e costs by crossing even cuts as far as that is more
than the excess of the stretches it lies in: there either bound holds, but not both together.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from .field import Field, Flags
from .matching import Ints, lightest_matching

SHORTEST: Final = 48  # entrants in a stretch, at least
LONGEST: Final = 150  # a longer one (of large score groups) is left to its cuts
NEVER: Final = 1 << 50

Pairs = tuple[Ints, Ints]


@dataclass(frozen=True, kw_only=True, slots=True)
class Cuts:
    """The field by score, from below: `place` is the index into `scores` of each player; cut i lies between score i
    and i + 1. `odd`: an odd number of pairings crosses; `unsure`: it depends on the bye."""

    scores: Ints
    place: Ints
    odd: Flags
    unsure: Flags

    @property
    def gaps(self) -> Ints:
        return np.diff(self.scores)


def distance_bound(field: Field, allowed: Pairs, pairs: Pairs, takers: Ints) -> Ints:
    """The least distance of any round with each of `pairs`, if only `allowed` ones are played and one of the `takers`
    has the bye."""
    cuts = _cuts(field, takers)
    ends = _stretches(cuts)
    excess = np.array(
        [
            _excess(field, cuts, stretch, inside, takers)
            for stretch, inside in zip(ends, _inside(cuts, ends, allowed), strict=True)
        ]
    )
    least = int((cuts.gaps * cuts.odd).sum() + excess.sum())
    # Crossing an odd cut is paid for already, an even one costs two, one that nothing is known of costs one.
    dear = np.where(cuts.odd, 0, np.where(cuts.unsure, 1, 2)) * cuts.gaps
    paid = np.concatenate(([0], np.cumsum(dear)))
    spared = np.concatenate(([0], np.cumsum(excess)))
    stretch_of = np.searchsorted([stretch[0] for stretch in ends], np.arange(len(cuts.scores)), side="right")
    at = np.concatenate((cuts.place, [0]))
    one, other = at[pairs[0]], at[pairs[1]]
    low, high = np.minimum(one, other), np.maximum(one, other)
    crossed = paid[high] - paid[low]
    slack = spared[stretch_of[high]] - spared[stretch_of[low] - 1]
    bound = least + np.maximum(0, crossed - slack)
    return np.where(pairs[1] == field.bye_vertex, least, bound) if field.bye_vertex is not None else bound


def _cuts(field: Field, takers: Ints) -> Cuts:
    players = len(field.players)
    scores, place = np.unique(field.points[:players], return_inverse=True)
    cuts = np.arange(len(scores) - 1)
    above = players - np.cumsum(np.bincount(place, minlength=len(scores)))[:-1]
    unsure = np.zeros(len(cuts), dtype=np.bool_)
    if field.bye_vertex is not None:
        # Cuts under the lowest who may have the bye have the bye above them, those over the highest below.
        lowest, highest = (int(place[takers].min()), int(place[takers].max())) if len(takers) else (0, len(cuts))
        above = above - (cuts < lowest)
        unsure = (cuts >= lowest) & (cuts < highest)
    return Cuts(scores=scores, place=place, odd=(above % 2 == 1) & ~unsure, unsure=unsure)


def _stretches(cuts: Cuts) -> list[tuple[int, int]]:
    """Runs of scores, each (first, one after the last), of so many entrants at least."""
    counts = np.bincount(cuts.place, minlength=len(cuts.scores)).tolist()
    ends: list[tuple[int, int]] = []
    start = size = 0
    for score, count in enumerate(counts):
        size += count
        if size >= SHORTEST:
            ends.append((start, score + 1))
            start, size = score + 1, 0
    if start < len(counts):
        ends.append((start, len(counts)))
    return ends


def _inside(cuts: Cuts, ends: list[tuple[int, int]], allowed: Pairs) -> Iterator[Pairs]:
    """The allowed pairs within each stretch."""
    number = np.searchsorted([start for start, _ in ends], cuts.place, side="right") - 1
    games = allowed[1] < len(cuts.place)
    first, second = allowed[0][games], allowed[1][games]
    within = number[first] == number[second]
    first, second = first[within], second[within]
    order = np.argsort(number[first], kind="stable")
    first, second = first[order], second[order]
    bounds = np.searchsorted(number[first], np.arange(len(ends) + 1))
    for start, end in zip(bounds[:-1].tolist(), bounds[1:].tolist(), strict=True):
        yield first[start:end], second[start:end]


def _excess(field: Field, cuts: Cuts, stretch: tuple[int, int], inside: Pairs, takers: Ints) -> int:
    """What the stretch costs beyond its cuts: those within it and the one under it, if there is one."""
    start, end = stretch
    members = np.flatnonzero((cuts.place >= start) & (cuts.place < end))
    borders = [cut for cut in (start - 1, end - 1) if 0 <= cut < len(cuts.gaps)]
    has_bye = field.bye_vertex is not None and bool(np.isin(members, takers).any())
    unknown = cuts.unsure[start : end - 1].any() or cuts.unsure[borders].any()
    if len(members) > LONGEST or unknown or not len(members):
        return 0
    points = field.points[members]
    # A stretch reaches down to the highest score below it and up to its own highest.
    bottom = int(cuts.scores[start - 1]) if start else -NEVER
    top = int(cuts.scores[end - 1]) if end < len(cuts.scores) else NEVER
    up, down = top - points, points - bottom
    ways = np.minimum(up[:, None] + up, down[:, None] + down)
    number = np.full(field.vertices, -1)
    number[members] = np.arange(len(members))
    one, other = number[inside[0]], number[inside[1]]
    low, high = np.minimum(one, other), np.maximum(one, other)
    ways[low, high] = np.abs(points[low] - points[high])
    first, second = np.triu_indices(len(members), 1)
    edges = [(first, second, ways[first, second])]
    size = len(members)
    for border, price in ((end - 1, up), (start - 1, down)):
        if 0 <= border < len(cuts.gaps) and cuts.odd[border]:
            edges.append((np.arange(len(members)), np.full(len(members), size), price))
            size += 1
    # A pairing that passes over the whole stretch need not be thought of: with any pairing inside, changing partners so
    # that its higher one leaves upwards and its lower one downwards is no farther.
    if has_bye:
        idle = number[np.intersect1d(members, takers)]
        edges.append((idle, np.full(len(idle), size), np.zeros(len(idle), dtype=np.int64)))
        size += 1
    total = _lightest(size, *(np.concatenate(column) for column in zip(*edges, strict=True)))
    by_cuts = int((cuts.gaps * cuts.odd)[max(0, start - 1) : end - 1].sum())
    return 0 if total is None else total - by_cuts


def _lightest(size: int, first: Ints, second: Ints, costs: Ints) -> int | None:
    """The least cost of pairing all off, None if that cannot be."""
    there = costs < NEVER // 2
    first, second, costs = first[there], second[there], costs[there]
    matched = lightest_matching(size, first, second, costs.tolist())
    if 2 * len(matched) < size:
        return None
    by_pair: dict[tuple[int, int], int] = dict(
        zip(zip(first.tolist(), second.tolist(), strict=True), costs.tolist(), strict=True)
    )
    return sum(by_pair[pair] for pair in matched)
