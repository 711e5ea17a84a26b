"""The best way to pair vertices off, by costs that are compared one after the other: exactly.

The costs of an edge are packed into one whole number: a level is multiplied by more than everything below it can come
to in a whole matching, so comparing sums compares the levels one by one. No float is involved. rustworkx computes
with 128 bits and adds a few weights in between, so weights of up to `MOST_BITS` are let through and wider ones refused.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from operator import index
from typing import Final, TypeAlias

import numpy as np
import rustworkx as rx
from numpy.typing import NDArray

from .model import BadRound

Ints = NDArray[np.int64]
Graph: TypeAlias = "rx.PyGraph[None, int]"

MOST_BITS: Final = 120
WORD_BITS: Final = 62


class TooWide(BadRound):
    """The costs cannot be packed without loss."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Level:
    """The costs of one criterion, edge by edge, and how many edges of one matching can have any cost at all."""

    costs: Ints
    at_most: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Packed:
    """One weight per edge, less is better, and the length of the largest in bits."""

    weights: list[int]
    bits: int


def pack(levels: Sequence[Level], edges: int) -> Packed:
    """Costs of several levels as one number per edge. A level's least cost is taken off everywhere first, which moves
    all perfect matchings alike; a level that is the same everywhere takes no bits."""
    multipliers: list[int] = []
    spans: list[int] = []
    room = 1
    for level in reversed(levels):
        # An edge without this cost is there unless every edge of a matching has one; then all of them move alike.
        span = int(level.costs.max() - level.costs.min()) if edges else 0
        multipliers.append(room)
        spans.append(span)
        room *= span * level.at_most + 1
    multipliers.reverse()
    spans.reverse()
    largest = sum(multiplier * span for multiplier, span in zip(multipliers, spans, strict=True))
    bits = largest.bit_length()
    if bits > MOST_BITS:
        raise TooWide((f"The criteria need numbers of {bits} bits, {MOST_BITS} are there: use fewer criteria.",))
    if bits <= WORD_BITS:
        total = np.zeros(edges, dtype=np.int64)
        for level, multiplier, span in zip(levels, multipliers, spans, strict=True):
            if span:
                total += (level.costs - level.costs.min()) * multiplier
        return Packed(weights=total.tolist(), bits=bits)
    sums = [0] * edges
    for level, multiplier, span in zip(levels, multipliers, spans, strict=True):
        if span:
            low = int(level.costs.min())
            sums = [sum_ + (cost - low) * multiplier for sum_, cost in zip(sums, level.costs.tolist(), strict=True)]
    return Packed(weights=sums, bits=bits)


def lightest_matching(vertices: int, first: Ints, second: Ints, weights: Sequence[int]) -> list[tuple[int, int]]:
    """As many pairs as possible, and among those the least sum of weights; each pair in rising order, pairs sorted.

    Which of several best ones is returned depends on the numbering of the vertices and nothing else.
    """
    return matching_of(graph_of(vertices, first, second, weights)) if len(weights) else []


def graph_of(vertices: int, first: Ints, second: Ints, weights: Sequence[int]) -> Graph:
    """The graph whose heaviest matching is the lightest one of these weights."""
    top = max(weights) + 1
    graph: Graph = rx.PyGraph(multigraph=True)
    graph.add_nodes_from([None] * vertices)
    graph.add_edges_from(
        [(u, v, top - weight) for u, v, weight in zip(first.tolist(), second.tolist(), weights, strict=True)]
    )
    return graph


def matching_of(graph: Graph) -> list[tuple[int, int]]:
    """The heaviest of the largest matchings."""
    matched = rx.max_weight_matching(graph, max_cardinality=True, weight_fn=index)
    return sorted((min(pair), max(pair)) for pair in matched)
