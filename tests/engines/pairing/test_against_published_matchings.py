"""The matching against published graphs.

Source: networkx, algorithms/tests/test_matching.py, after J. van Rantwijk and Galil 1986 (tests/reference/pairing).
"""

from __future__ import annotations

from itertools import combinations

import numpy as np

from league.engines.pairing.matching import Level, lightest_matching, pack


def test_the_weights_are_the_published_ones(published):
    tried = 0
    for case in published("max_weight_matching")["cases"]:
        weights = {frozenset(edge[:2]): edge[2] for edge in case["edges"]}
        if not all(isinstance(weight, int) for weight in weights.values()):
            continue  # whole numbers only
        vertices = sorted({vertex for edge in weights for vertex in edge})
        # Where not all must be matched, an edge that is not there costs nothing and one that would harm is not taken.
        full = not case["max_cardinality"]
        pairs = [frozenset(pair) for pair in combinations(range(1, len(vertices) + len(vertices) % 2 + 1), 2)]
        edges = [pair for pair in pairs if full or pair in weights]
        worth = [max(0, weights.get(pair, 0)) if full else weights[pair] for pair in edges]
        first, second = (np.array([sorted(pair)[side] - 1 for pair in edges]) for side in (0, 1))
        costs = np.array([-each for each in worth])
        packed = pack([Level(costs=costs, at_most=len(vertices))], len(edges))
        matched = lightest_matching(len(vertices) + len(vertices) % 2, first, second, packed.weights)
        by_pair = dict(zip(edges, worth, strict=True))
        assert sum(by_pair[frozenset((one + 1, other + 1))] for one, other in matched) == case["weight"], case["case"]
        tried += 1
    assert tried >= 9
