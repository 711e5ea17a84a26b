"""The bounds on floats and roles never promise more than the best round costs."""

from __future__ import annotations

import random
from dataclasses import replace
from math import inf

import networkx as nx
import numpy as np
import pytest

from league.engines.pairing.field import Field, field_of
from league.engines.pairing.kinds import BOUNDED, bound_by_kinds, least_by_kinds
from league.engines.pairing.proof import has_whole_round
from tests.engines.pairing.crowd import after, anybody
from tests.engines.pairing.naive import rounds

CRITERIA = tuple(sorted(BOUNDED))


def a_field(dice: random.Random) -> Field:
    players = anybody(dice, dice.randrange(3, 9), meetings=0.4)
    if dice.random() < 0.5:
        players = [replace(player, points_x2=dice.choice((0, 2)), floats=player.floats[:1]) for player in players]
    return field_of(players, ("repeat", "distance", "floats", "role_limit", "roles"), frozenset(), "s")


def best_by_pair(field: Field, criterion, allowed: set[tuple[int, int]], distance: int | None):
    """What the best round with each pair costs, of those of this distance (any: None) and of allowed pairs only."""
    numbers = {player.id: place for place, player in enumerate(field.players)}
    best: dict[tuple[int, int], float] = dict.fromkeys(allowed, inf)
    for pairs in rounds(field.players):
        places = [
            tuple(sorted((numbers[one.id], numbers[other.id] if other else field.bye_vertex))) for one, other in pairs
        ]
        far = sum(field.cost("distance", *place) for place in places)
        if allowed.issuperset(places) and distance in {None, far}:
            total = sum(field.cost(criterion, *place) for place in places)
            best |= {place: min(best[place], total) for place in places}
    return best


@pytest.mark.parametrize("run", range(200))
def test_no_round_with_a_pair_costs_less_than_its_bound(run):
    dice = random.Random(run)
    field, criterion = a_field(dice), CRITERIA[run % len(CRITERIA)]
    first, second = (side.astype(np.int64) for side in np.triu_indices(field.vertices, 1))
    free = field.costs("repeat", first, second) == 0
    pairs = (first[free], second[free])
    allowed = set(zip(*(side.tolist() for side in pairs), strict=True))
    distance = None if run % 2 else 2 * dice.randrange(6)
    best = best_by_pair(field, criterion, allowed, distance)
    bound = bound_by_kinds(field, criterion, pairs, pairs, distance=distance)
    told = dict(zip(zip(*(side.tolist() for side in pairs), strict=True), bound.tolist(), strict=True))
    assert all(told[pair] <= best[pair] for pair in allowed)


@pytest.mark.parametrize("run", range(60))
def test_no_round_at_all_costs_less_than_the_least(run):
    field, criterion = a_field(random.Random(run)), CRITERIA[run % len(CRITERIA)]
    everything = {(one, other) for other in range(field.vertices) for one in range(other)}
    assert least_by_kinds(field, criterion) <= min(best_by_pair(field, criterion, everything, None).values())


def test_the_bound_is_sharp_where_a_group_leans_one_way():
    """Six who attacked last, two who defended last, all level: two of the six at least must attack again."""
    players = [replace(player, points_x2=0) for player in after(1, 8, seed=1)]
    players = [replace(player, roles=("attack",) if n < 6 else ("defend",)) for n, player in enumerate(players)]
    field = field_of(players, ("roles",), frozenset(), "s")
    assert least_by_kinds(field, "roles") == 2


@pytest.mark.parametrize("run", range(150))
def test_whether_all_can_be_paired_off_is_what_networkx_says(run):
    dice = random.Random(run)
    size = 2 * dice.randrange(1, 12)
    edges = [(a, b) for b in range(size) for a in range(b) if dice.random() < dice.choice((0.05, 0.15, 0.3))]
    graph = nx.Graph(edges)
    whole = 2 * len(nx.max_weight_matching(graph, maxcardinality=True)) == size
    first, second = (np.array([edge[side] for edge in sorted(edges)], dtype=np.int64) for side in (0, 1))
    assert has_whole_round(size, first, second) is whole
