"""Hundreds of wars against networkx: the same need met at each importance, the same loss, the same greatest flow."""

from __future__ import annotations

import networkx as nx
import pytest

from league.engines.supply import distribute
from tests.engines.supply.oracle import answer, network_of, simple
from tests.engines.supply.recount import check, losses, met
from tests.engines.supply.wars import war_at_random


@pytest.mark.parametrize("hundred", range(4))
def test_the_most_need_is_met_by_importance_at_the_least_loss(hundred):
    for seed in range(hundred * 100, hundred * 100 + 100):
        situation = war_at_random(seed, regions=5 + seed % 20, forces=1 + seed % 12, ranks=1 + seed % 5)
        found = distribute(situation)
        check(found, situation)
        for faction in situation.factions:
            theirs = answer(situation, faction)
            assert met(found, situation, faction) == theirs.met
            assert losses(found, faction) == theirs.loss


def test_a_lone_force_in_want_stands_behind_the_least_cut_of_the_network():
    cut = 0
    for seed in range(200):
        situation = war_at_random(seed, regions=10, forces=1, factions=1)
        [force] = situation.forces
        [told] = distribute(situation).forces
        graph = simple(network_of(situation, force.faction))
        graph.add_edge(force.region, "need", capacity=force.need)
        worth, _ = nx.minimum_cut(graph, "stock", "need")
        assert told.loads == worth
        if told.why is not None:
            cut += 1
            assert told.why.loads == worth
    assert cut > 50


def test_a_war_of_a_hundred_and_fifty_regions():
    situation = war_at_random(7, regions=150, forces=60, ranks=60)
    found = distribute(situation)
    check(found, situation)
    for faction in situation.factions:
        theirs = answer(situation, faction)
        assert met(found, situation, faction) == theirs.met
        assert losses(found, faction) == theirs.loss
