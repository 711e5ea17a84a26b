"""Whole seasons against what every Swiss system keeps.

Source: FIDE Handbook C.04.1, basic rules for Swiss systems, effective from 1 July 2025
(tests/reference/pairing/swiss_invariants.json); the ids of its rules are quoted.
"""

from __future__ import annotations

import random
from collections import Counter

import pytest

from league.engines.pairing import Criteria, Player
from tests.engines.pairing.crowd import Season

ROUNDS = 7


@pytest.fixture(scope="module", params=[(16, 1), (33, 2), (64, 3)], ids=["16", "33", "64"])
def season(request) -> Season:
    entrants, seed = request.param
    played = Season(players={f"e{n}": Player(id=f"e{n}") for n in range(entrants)}, dice=random.Random(seed))
    for _ in range(ROUNDS):
        played.play(played.pair())
    return played


def test_two_players_meet_at_most_once(season):
    """no_rematch"""
    met = Counter(frozenset(each.ids) for draft in season.drafts for each in draft.pairings)
    assert max(met.values()) == 1


def test_with_an_odd_number_one_player_has_the_bye_and_with_an_even_one_nobody(season):
    """odd_bye"""
    assert {len(draft.byes) for draft in season.drafts} == {len(season.players) % 2}


def test_nobody_has_a_second_bye(season):
    """bye_once"""
    byes = Counter(bye.id for draft in season.drafts for bye in draft.byes)
    assert not byes or max(byes.values()) == 1


def test_nobodys_roles_are_more_than_two_out_of_balance(season):
    """colour_balance, with attack and defence for the colours"""
    assert all(abs(player.balance) <= 2 for player in season.players.values())


def test_nobody_has_one_role_three_times_running(season):
    """colour_streak"""
    for player in season.players.values():
        told = "".join(role[0] for role in player.roles if role)
        assert "aaa" not in told and "ddd" not in told


def test_most_play_others_of_the_same_score(season):
    """same_score. The rule says "in general"; that a half or more do is our reading of it."""
    level = [
        reason.cost == 0
        for draft in season.drafts
        for each in draft.pairings
        for reason in each.reasons
        if reason.criterion == "distance"
    ]
    assert sum(level) > len(level) / 2


def test_who_has_attacked_less_attacks_where_nothing_else_is_at_stake():
    """colour_choice: in general the role had less often"""
    from league.engines.pairing import pair_swiss

    often = Player(id="often", roles=("attack", "defend", "attack"))
    seldom = Player(id="seldom", roles=("defend", "attack", "defend"))
    assert pair_swiss([often, seldom], seed="x").pairings[0].ids == ("seldom", "often")


def test_who_is_equal_takes_the_other_role_than_last_time():
    """colour_choice: if equal, the alternate of the last one"""
    from league.engines.pairing import pair_swiss

    for seed in "abcdef":
        attacked = Player(id="attacked", roles=("defend", "attack"))
        defended = Player(id="defended", roles=("attack", "defend"))
        assert pair_swiss([attacked, defended], seed=seed).pairings[0].ids == ("defended", "attacked")


def test_every_pairing_says_why(season):
    """explainable"""
    for draft in season.drafts:
        for each in draft.pairings:
            assert [reason.criterion for reason in each.reasons] == [
                name for name in Criteria().levels if name not in ("bye", "bye_low")
            ]
            assert all(reason.words.endswith(".") for reason in each.reasons)
