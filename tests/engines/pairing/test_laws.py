"""What stays true of any round."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from league.engines.pairing import Criteria, Pins, Player, matching, pair_swiss, search
from tests.engines.pairing.crowd import after, any_order, anybody

RUNS = range(25)


def some(run: int, *, least: int = 4) -> tuple[random.Random, list[Player], Criteria]:
    dice = random.Random(run)
    return dice, anybody(dice, dice.randrange(least, 20)), any_order(dice)


@pytest.mark.parametrize("run", RUNS)
def test_the_order_in_which_entrants_are_told_changes_nothing(run):
    dice, players, criteria = some(run)
    draft = pair_swiss(players, seed="s", criteria=criteria)
    assert pair_swiss(dice.sample(players, len(players)), seed="s", criteria=criteria) == draft


def test_the_order_changes_nothing_in_a_large_round():
    players = after(6, 301)
    assert pair_swiss(players[::-1], seed="s") == pair_swiss(players, seed="s")


@pytest.mark.parametrize("run", RUNS)
def test_another_seed_draws_other_lots_but_never_a_worse_round(run):
    _, players, criteria = some(run)
    unrated = [replace(player, newcomer=False) for player in players]  # who is strongest may be a matter of lots
    totals = {pair_swiss(unrated, seed=seed, criteria=criteria).totals for seed in "abc"}
    assert len(totals) == 1


def test_lots_differ_from_seed_to_seed():
    players = [Player(id=f"e{n}") for n in range(16)]
    rounds = {
        frozenset(frozenset(each.ids) for each in pair_swiss(players, seed=str(seed)).pairings) for seed in range(20)
    }
    assert len(rounds) > 15


@pytest.mark.parametrize("run", RUNS)
def test_a_pinned_pairing_and_a_pinned_bye_stay(run):
    dice, players, criteria = some(run)
    one, other, idle = (player.id for player in dice.sample(players, 3))
    draft = pair_swiss(players, seed="s", criteria=criteria, pins=Pins(pairings=((one, other),), byes=(idle,)))
    assert [set(each.ids) for each in draft.pairings if each.pinned] == [{one, other}]
    assert [bye.id for bye in draft.byes if bye.pinned] == [idle]


@pytest.mark.parametrize("run", RUNS)
def test_pinning_what_was_drafted_leaves_the_rest_as_good(run):
    dice, players, criteria = some(run)
    free = pair_swiss(players, seed="s", criteria=criteria)
    chosen = dice.choice(free.pairings)
    again = pair_swiss(players, seed="s", criteria=criteria, pins=Pins(pairings=(chosen.ids,)))
    spent = {reason.criterion: reason.cost for reason in chosen.reasons}
    strict = [(name, total + spent.get(name, 0)) for name, total in again.totals if name not in ("newcomer", "bye_low")]
    assert strict == [(name, total) for name, total in free.totals if name not in ("newcomer", "bye_low")]


@pytest.mark.parametrize("run", RUNS)
def test_the_withdrawn_are_nowhere_in_the_round(run):
    dice, players, criteria = some(run)
    gone = dice.choice(players)
    told = [replace(player, withdrawn=player.id == gone.id) for player in players]
    draft = pair_swiss(told, seed="s", criteria=criteria)
    assert draft == pair_swiss([player for player in players if player.id != gone.id], seed="s", criteria=criteria)


@pytest.mark.parametrize("run", RUNS)
def test_the_reasons_of_the_pairings_add_up_to_the_totals(run):
    _, players, criteria = some(run)
    draft = pair_swiss(players, seed="s", criteria=criteria)
    told = dict.fromkeys(criteria.levels, 0)
    for each in (*draft.pairings, *draft.byes):
        for reason in each.reasons:
            told[reason.criterion] += reason.cost
    assert tuple(told.items()) == draft.totals


@pytest.mark.parametrize("run", RUNS)
def test_exactly_the_criteria_with_a_cost_are_said_to_have_given_way(run):
    _, players, criteria = some(run)
    draft = pair_swiss(players, seed="s", criteria=criteria)
    assert [(each.criterion, each.total) for each in draft.gave_way] == [pair for pair in draft.totals if pair[1]]


@pytest.mark.parametrize("run", RUNS)
def test_what_is_unavoidable_costs_something_even_if_it_comes_first(run):
    _, players, criteria = some(run)
    for each in pair_swiss(players, seed="s", criteria=criteria).gave_way:
        # Both criteria on roles share who attacks, so each is looked at alone.
        alone = pair_swiss(players, seed="s", criteria=Criteria(order=(each.criterion,)))
        if each.criterion not in ("role_limit", "roles"):
            assert each.unavoidable == (dict(alone.totals)[each.criterion] > 0)


@pytest.mark.parametrize("run", RUNS)
def test_a_witness_can_be_checked_by_hand(run):
    _, players, criteria = some(run)
    by_id = {player.id: player for player in players}
    for each in pair_swiss(players, seed="s", criteria=criteria).gave_way:
        if each.witness is None or each.criterion not in ("repeat", "party", "distance"):
            continue
        groups = each.witness.groups
        assert all(len(group) % 2 for group in groups)
        assert each.witness.short_by > 0
        between = [
            (by_id[one], by_id[other])
            for place, group in enumerate(groups)
            for others in groups[place + 1 :]
            for one in group
            for other in others
        ]
        allowed = {
            "repeat": lambda one, other: other.id not in one.met,
            "party": lambda one, other: not one.parties & other.parties,
            "distance": lambda one, other: one.points_x2 == other.points_x2,
        }[each.criterion]
        assert not any(allowed(one, other) for one, other in between)


def test_most_pairings_of_a_large_round_are_left_out_unseen():
    draft = pair_swiss(after(7, 400), seed="s")
    assert draft.search.exact
    assert draft.search.examined < draft.search.possible / 2


def test_numbers_too_long_for_a_word_are_packed_as_well(monkeypatch):
    players = after(5, 40)
    short = pair_swiss(players, seed="s")
    monkeypatch.setattr(matching, "WORD_BITS", 0)
    assert pair_swiss(players, seed="s") == short


def test_a_large_round_is_no_worse_for_being_searched_in_parts(monkeypatch):
    players = after(6, 260, scale=10)
    parts = pair_swiss(players, seed="s")
    monkeypatch.setattr(search, "SMALL", 1000)
    assert pair_swiss(players, seed="s").totals == parts.totals
