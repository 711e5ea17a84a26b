"""Whether any round at all could keep a criterion, and if not, why."""

from __future__ import annotations

from collections import defaultdict
from typing import Final

import numpy as np
import rustworkx as rx

from .field import Field
from .kinds import least_by_kinds
from .matching import Ints, lightest_matching
from .model import CriterionName, Witness
from .search import neighbours

SHOWN: Final = 64  # up to this many vertices the reason is searched for
PARTNERS: Final = 16


def unavoidable(field: Field, criterion: CriterionName) -> tuple[bool, Witness | None]:
    """Whether every round has some cost by this criterion, even if nothing else mattered, and the witness of it."""
    if criterion == "distance":
        return _groups_by_score(field)
    if _whole(field.vertices, *_free(field, criterion, *neighbours(field))):
        return False, None
    if field.vertices > SHOWN and least_by_kinds(field, criterion) > 0:
        return True, None
    pairs = _free(field, criterion, *(side.astype(np.int64) for side in np.triu_indices(field.vertices, 1)))
    alone = np.flatnonzero(np.bincount(np.concatenate(pairs), minlength=field.vertices) == 0)
    if len(alone):
        return True, Witness(blockers=(), groups=tuple(sorted((_id(field, vertex),) for vertex in alone.tolist())))
    if has_whole_round(field.vertices, *pairs):
        return False, None
    return True, witness_of(field, *pairs) if field.vertices <= SHOWN else None


def witness_of(field: Field, first: Ints, second: Ints) -> Witness:
    """Blockers and odd groups of a graph without a perfect matching, by the Gallai-Edmonds decomposition: the
    vertices that some largest matching leaves out fall into odd groups; their neighbours outside are the blockers.
    """
    size = field.vertices
    largest = _size(size, first, second)
    left_out = {vertex for vertex in range(size) if _size_without(size, first, second, vertex) == largest}
    edges = list(zip(first.tolist(), second.tolist(), strict=True))
    blockers = {
        other
        for one, two in edges
        for inner, other in ((one, two), (two, one))
        if inner in left_out and other not in left_out
    }
    graph: rx.PyGraph[int, None] = rx.PyGraph()
    graph.add_nodes_from(range(size))
    graph.add_edges_from_no_data([(one, two) for one, two in edges if one in left_out and two in left_out])
    groups = [group for group in rx.connected_components(graph) if group <= left_out]
    return Witness(
        blockers=tuple(sorted(_id(field, vertex) for vertex in blockers)),
        groups=tuple(sorted(tuple(sorted(_id(field, vertex) for vertex in group)) for group in groups)),
    )


def _groups_by_score(field: Field) -> tuple[bool, Witness | None]:
    """Those level on points play each other, so each group of an odd number leaves one over."""
    groups: defaultdict[int, list[str]] = defaultdict(list)
    for player in field.players:
        groups[player.points_x2].append(player.id)
    odd = tuple(tuple(sorted(group)) for _, group in sorted(groups.items(), reverse=True) if len(group) % 2)
    bye = ("",) if field.bye_vertex is not None else ()
    if len(odd) <= len(bye):
        return False, None
    return True, Witness(blockers=bye, groups=odd)


def _free(field: Field, criterion: CriterionName, first: Ints, second: Ints) -> tuple[Ints, Ints]:
    free = field.costs(criterion, first, second) == 0
    return first[free], second[free]


def has_whole_round(vertices: int, first: Ints, second: Ints) -> bool:
    """Whether all vertices can be paired off by these pairs.

    Who has one partner left is paired with that one, which loses nothing (R. Karp and M. Sipser, 1981, from memory);
    who has none left is the proof that it cannot be. What remains is tried with a few partners each, then with all.
    """
    there = np.zeros((vertices, vertices), dtype=np.bool_)
    there[first, second] = there[second, first] = True
    degree = there.sum(axis=1)
    left = np.ones(vertices, dtype=np.bool_)
    while True:
        if (left & (degree == 0)).any():
            return False
        ends = np.flatnonzero(left & (degree == 1))
        if not len(ends):
            break
        pair = [int(ends[0]), int(there[ends[0]].argmax())]
        left[pair] = False
        there[pair] = there[:, pair] = False
        degree = there.sum(axis=1)
    rest = np.flatnonzero(left)
    pairs = np.nonzero(np.triu(there[np.ix_(rest, rest)]))
    return _whole(len(rest), *_spread(len(rest), *pairs)) or _whole(len(rest), *pairs)


def _spread(vertices: int, first: Ints, second: Ints) -> tuple[Ints, Ints]:
    """Of the pairs of each first vertex, which are sorted by it, some evenly apart."""
    counts = np.bincount(first, minlength=vertices)
    place = np.arange(len(first)) - np.repeat(np.cumsum(counts) - counts, counts)
    step = np.maximum(1, counts // PARTNERS)[first]
    some = place % step == 0
    return first[some], second[some]


def _whole(vertices: int, first: Ints, second: Ints) -> bool:
    return 2 * _size(vertices, first, second) == vertices


def _size(vertices: int, first: Ints, second: Ints) -> int:
    return len(lightest_matching(vertices, first, second, [0] * len(first)))


def _size_without(vertices: int, first: Ints, second: Ints, vertex: int) -> int:
    others = (first != vertex) & (second != vertex)
    return _size(vertices, first[others], second[others])


def _id(field: Field, vertex: int) -> str:
    return "" if vertex == field.bye_vertex else field.players[vertex].id
