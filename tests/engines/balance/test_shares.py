"""Shares counted from the reports: per scenario, per table, faction against faction."""

from __future__ import annotations

from itertools import count

import pytest

from league.engines.balance import BadGames, SidedGame, shares, wilson

numbers = count()


def game(score_x2: int, **facts: str) -> SidedGame:
    return SidedGame(id=str(next(numbers)), first="ann", second="bob", score_x2=score_x2, **facts)


def test_attackers_share_is_told_for_each_scenario_with_its_games():
    ford = [game(score, scenario="The ford") for score in (2, 2, 1, 0)]
    mill = [game(2, scenario="The mill")]
    one, other = shares([*mill, *ford], by="scenario")
    assert (one.key, one.wins, one.draws, one.losses, one.share) == (("The ford",), 2, 1, 1, 0.625)
    assert (other.key, other.games) == (("The mill",), 1)
    assert one.interval == wilson(2.5, 4)


def test_games_without_a_known_table_are_left_out():
    (one,) = shares([game(2, table="1"), game(2)], by="table")
    assert (one.key, one.games) == (("1",), 1)


def test_factions_are_told_from_the_first_named_whoever_attacked():
    games = [
        game(2, first_faction="Reds", second_faction="Blues"),
        game(2, first_faction="Blues", second_faction="Reds"),
        game(0, first_faction="Reds", second_faction="Blues"),
    ]
    (one,) = shares(games, by="factions")
    assert (one.key, one.wins, one.losses) == (("Blues", "Reds"), 2, 1)


def test_a_faction_against_itself_says_nothing():
    assert shares([game(2, first_faction="Reds", second_faction="Reds")], by="factions") == ()


@pytest.mark.parametrize(("wins", "unbalanced"), [(8, False), (9, True)])
def test_nothing_is_unbalanced_while_even_odds_are_possible(wins, unbalanced):
    """Of ten games: eight won have an interval from 0.49, nine one from 0.60."""
    games = [game(2, scenario="The ford") for _ in range(wins)]
    games += [game(0, scenario="The ford") for _ in range(10 - wins)]
    (one,) = shares(games, by="scenario")
    assert one.unbalanced is unbalanced
    assert one.unbalanced is (0.5 not in one.interval)


def test_all_draws_are_balance():
    (one,) = shares([game(1, scenario="The ford") for _ in range(30)], by="scenario")
    assert one.share == 0.5
    assert not one.unbalanced


def test_everything_wrong_is_said_at_once():
    bad = SidedGame(id="x", first="ann", second="ann", score_x2=5)
    with pytest.raises(BadGames) as wrong:
        shares([bad, bad], by="table")
    assert wrong.value.violations[:3] == (
        "Game x is there more than once.",
        "Game x: ann plays against themselves.",
        "Game x: a score is 0, 1 or 2 halves, not 5.",
    )


@pytest.mark.parametrize(("successes", "games"), [(0, 0), (3, 2), (-1, 2)])
def test_an_impossible_share_is_refused(successes, games):
    with pytest.raises(BadGames):
        wilson(successes, games)
