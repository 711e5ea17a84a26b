"""The round against every other round there is, and against the matching of networkx on the same weights."""

from __future__ import annotations

import random

import networkx as nx
import pytest

from league.engines.pairing import Criteria, Player, bounds, distance, pair_swiss, search
from league.engines.pairing.field import strongest_of
from tests.engines.pairing.crowd import after, any_order, anybody
from tests.engines.pairing.naive import all_pairs, cost, rounds, totals


def told(players: list[Player], criteria: Criteria, seed: str) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The totals of the drafted round, as the draft says and as counted anew from its pairings."""
    draft = pair_swiss(players, seed=seed, criteria=criteria)
    by_id = {player.id: player for player in players}
    pairs = [tuple(by_id[each] for each in pairing.ids) for pairing in draft.pairings]
    pairs += [(by_id[bye.id], None) for bye in draft.byes]
    counted = totals(pairs, players, criteria.order, strongest_of(players, seed))
    return tuple(total for _, total in draft.totals), counted


def heaviest(players: list[Player], criteria: Criteria, seed: str) -> tuple[int, ...]:
    """The totals of the round networkx finds, with weights of our criteria as digits of one number."""
    strongest = strongest_of(players, seed)
    base = 1 + sum(
        max(1, cost(name, *pair, players, criteria.order, strongest))
        for pair in all_pairs(players)
        for name in criteria.order
    )
    graph: nx.Graph = nx.Graph()
    for one, other in all_pairs(players):
        digits = 0
        for name in criteria.order:
            digits = digits * base + cost(name, one, other, players, criteria.order, strongest)
        graph.add_edge(one.id, other.id if other else "bye", weight=-digits)
    matched = nx.max_weight_matching(graph, maxcardinality=True)
    total = -sum(graph.edges[pair]["weight"] for pair in matched)
    found = []
    for _ in criteria.order:
        total, digit = divmod(total, base)
        found.append(digit)
    return tuple(reversed(found))


@pytest.mark.parametrize("number", range(2, 9))
def test_no_round_of_up_to_eight_is_better(number):
    for run in range(12):
        dice = random.Random(f"{number} {run}")
        players, criteria = anybody(dice, number, meetings=0.5), any_order(dice)
        strongest = strongest_of(players, "s")
        best = min(totals(pairs, players, criteria.order, strongest) for pairs in rounds(players))
        assert told(players, criteria, "s") == (best, best)


@pytest.mark.parametrize("number", [9, 10])
def test_no_round_of_nine_or_ten_is_better(number):
    for run in range(3):
        dice = random.Random(f"{number} {run}")
        players, criteria = anybody(dice, number, meetings=0.6), any_order(dice)
        strongest = strongest_of(players, "s")
        best = min(totals(pairs, players, criteria.order, strongest) for pairs in rounds(players))
        assert told(players, criteria, "s") == (best, best)


@pytest.mark.parametrize("run", range(250))
def test_networkx_finds_no_better_round(run):
    dice = random.Random(run)
    players, criteria = anybody(dice, dice.randrange(2, 25), meetings=dice.choice((0.1, 0.4, 0.8))), any_order(dice)
    best = heaviest(players, criteria, "s")
    assert told(players, criteria, "s") == (best, best)


@pytest.mark.parametrize("run", range(250))
def test_leaving_pairings_out_by_the_bounds_loses_nothing(run, monkeypatch):
    monkeypatch.setattr(search, "SMALL", 0)
    monkeypatch.setattr(search, "NEIGHBOURS", 2)
    monkeypatch.setattr(bounds, "FEW", run % 3 - 1)
    dice = random.Random(run)
    monkeypatch.setattr(distance, "SHORTEST", dice.randrange(1, 9))
    players = anybody(dice, dice.randrange(3, 25), meetings=dice.choice((0.1, 0.4, 0.8)))
    criteria = dice.choice((any_order(dice), Criteria()))
    best = heaviest(players, criteria, "s")
    assert told(players, criteria, "s") == (best, best)


@pytest.mark.parametrize("run", range(90))
def test_leaving_pairings_out_loses_nothing_after_a_season_so_far(run, monkeypatch):
    monkeypatch.setattr(search, "SMALL", 0)
    monkeypatch.setattr(search, "NEIGHBOURS", 3)
    monkeypatch.setattr(bounds, "FEW", 0)
    monkeypatch.setattr(distance, "SHORTEST", 4 + run % 7)
    players = after(6, 20 + run % 2, seed=run, scale=1 + 9 * (run % 3 > 0))
    best = heaviest(players, Criteria(), "s")
    assert told(players, Criteria(), "s") == (best, best)


@pytest.mark.parametrize("number", range(3, 9))
def test_a_criterion_is_called_unavoidable_exactly_where_no_round_of_all_there_are_keeps_it(number):
    for run in range(12):
        dice = random.Random(f"unavoidable {number} {run}")
        players, criteria = anybody(dice, number, meetings=0.7), any_order(dice)
        strongest = strongest_of(players, "s")
        for each in pair_swiss(players, seed="s", criteria=criteria).gave_way:
            # Alone in the order: the two criteria on roles share who attacks.
            least = min(totals(pairs, players, (each.criterion,), strongest)[0] for pairs in rounds(players))
            assert each.unavoidable == (least > 0)
