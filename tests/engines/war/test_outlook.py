from __future__ import annotations

from dataclasses import replace

import pytest

from league.engines.war import Victory, opening
from league.engines.war.outlook import outlook
from tests.engines.war.world import CAMPAIGN, force, with_rules

START = opening(CAMPAIGN)


def test_the_same_seed_gives_the_same_outlook():
    assert outlook(CAMPAIGN, START, seed=3, runs=6, turns=3) == outlook(CAMPAIGN, START, seed=3, runs=6, turns=3)


def test_chances_of_two_factions_are_at_least_whole_together():
    """More than one in all only where a victory is shared."""
    told = outlook(CAMPAIGN, START, seed=1, runs=20, turns=3)
    assert sum(each.chance for each in told.odds) >= 1


def test_whoever_is_outnumbered_ten_to_one_is_the_one_driven_off():
    lopsided = replace(
        CAMPAIGN,
        forces=(
            force("pikes", "commons", "mere", figures=5),
            force("lancers", "wardens", "gate", figures=50, pace=2),
            force("guard", "wardens", "brune", figures=50),
        ),
    )
    told = outlook(lopsided, opening(lopsided), seed=7, runs=40, turns=8)
    chances = {each.faction: each.chance for each in told.odds}
    assert chances["wardens"] > 0.8 > chances["commons"]
    assert told.driven_off == ("commons",)


def test_a_war_with_a_last_turn_ends_there():
    short = with_rules(victory=Victory(last_turn=2))
    assert outlook(short, opening(short), seed=1, runs=10, turns=8).ended == 1


def test_a_handicap_is_offered_to_whoever_wins_too_seldom_and_to_nobody_else():
    rich = with_rules(victory=Victory(per_worth=1, last_turn=4))
    told = outlook(rich, opening(rich), seed=5, runs=40, turns=4)
    weak = {each.faction for each in told.odds if each.chance < 0.5}
    assert {each.faction for each in told.handicaps} <= weak


def test_an_outlook_begins_at_a_closed_turn():
    with pytest.raises(ValueError, match="closed"):
        outlook(CAMPAIGN, replace(START, phase="orders"), seed=1)
