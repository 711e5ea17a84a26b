"""The bounds on the distance of a round never promise more than the nearest round costs."""

from __future__ import annotations

import random
from math import inf

import numpy as np
import pytest

from league.engines.pairing import Player, distance
from league.engines.pairing.field import field_of
from tests.engines.pairing.naive import rounds


@pytest.mark.parametrize("run", range(300))
def test_no_round_with_a_pair_is_nearer_than_its_bound(run, monkeypatch):
    dice = random.Random(run)
    monkeypatch.setattr(distance, "SHORTEST", dice.randrange(1, 4))
    number = dice.randrange(3, 9)
    ids = [f"e{n}" for n in range(number)]
    met = {frozenset((one, other)) for one in ids for other in ids if one < other and dice.random() < 0.5}
    players = [
        Player(
            id=each,
            points_x2=dice.choice((0, 1, 3, 4, 8, 20)),
            met=tuple(other for other in ids if frozenset((each, other)) in met),
        )
        for each in ids
    ]
    field = field_of(players, ("repeat", "distance"), frozenset(), "s")
    numbers = {player.id: place for place, player in enumerate(field.players)}
    takers = np.array(sorted(dice.sample(range(number), dice.randrange(1, number + 1))))
    first, second = (side.astype(np.int64) for side in np.triu_indices(field.vertices, 1))
    free = field.costs("repeat", first, second) == 0
    bound = distance.distance_bound(field, (first[free], second[free]), (first[free], second[free]), takers)
    nearest = dict.fromkeys(zip(first[free].tolist(), second[free].tolist(), strict=True), inf)
    for pairs in rounds(field.players):
        places = [
            tuple(sorted((numbers[one.id], numbers[other.id] if other else field.bye_vertex))) for one, other in pairs
        ]
        sits_out = [pair[0] for pair in places if pair[1] == field.bye_vertex]
        if all(pair in nearest for pair in places) and set(sits_out) <= set(takers.tolist()):
            total = sum(abs(one.points_x2 - other.points_x2) for one, other in pairs if other)
            for pair in places:
                nearest[pair] = min(nearest[pair], total)
    assert all(least <= most for least, most in zip(bound.tolist(), nearest.values(), strict=True))
