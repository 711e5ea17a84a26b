"""What the Bradley-Terry fit must do: meet its own defining equations, and not blame a scenario for a good player."""

from __future__ import annotations

import math
from collections import defaultdict

import numpy as np
import pytest

from league.engines.balance import BadGames, Fit, NoFit, SidedGame, fit, shares


def drawn_games(rng: np.random.Generator, count: int, ford: float) -> list[SidedGame]:
    """Games of twelve players of known strength; attackers at the ford have `ford` more in log odds, at the mill 0."""
    strength = np.linspace(-1.5, 1.5, 12)
    games = []
    for number in range(count):
        one, other = rng.choice(12, 2, replace=False)
        scenario = ("The ford", "The mill")[number % 2]
        odds = strength[one] - strength[other] + (ford if scenario == "The ford" else 0.0)
        wins = rng.random() < 1 / (1 + math.exp(-odds))
        games.append(
            SidedGame(id=f"{number}", first=f"p{one}", second=f"p{other}", score_x2=2 * wins, scenario=scenario)
        )
    return games


def expected_of(found: Fit, game: SidedGame) -> float:
    strengths = {one.player: one.estimate for one in found.strengths}
    effects = {one.key: one.estimate for one in found.effects}
    odds = strengths[game.first] - strengths[game.second] + effects.get((game.scenario,), 0.0)
    return 1 / (1 + math.exp(-odds))


def test_everybody_is_expected_to_have_won_as_much_as_they_did():
    """The likelihood equations of the model (Bradley and Terry 1952): they define the fit, so it is held to them."""
    games = drawn_games(np.random.default_rng(1), 400, ford=0.7)
    found = fit(games, by="scenario", prior=None)
    surplus: defaultdict[str, float] = defaultdict(float)
    for game in games:
        surprise = game.score_x2 / 2 - expected_of(found, game)
        surplus[game.first] += surprise
        surplus[game.second] -= surprise
        surplus[game.scenario] += surprise
    assert list(surplus.values()) == pytest.approx([0.0] * len(surplus), abs=1e-7)


def test_the_truth_lies_in_the_interval_about_as_often_as_it_says():
    """Of 200 seasons with a known truth, 95 % give or take three standard errors of that count."""
    held = 0
    for seed in range(200):
        found = fit(drawn_games(np.random.default_rng(seed), 200, ford=0.7), by="scenario", prior=None)
        held += 1 / (1 + math.exp(-0.7)) in found.effects[0].interval
    assert held / 200 == pytest.approx(0.95, abs=3 * math.sqrt(0.95 * 0.05 / 200))


def test_a_good_players_favourite_scenario_is_not_called_unfair():
    """Ann wins nine of ten whatever she plays, and attacks at the ford only; others are level there."""
    games, number = [], 0
    for scenario in ("The ford", "The mill"):
        for n in range(60):
            first, second = ("ann", "bob") if scenario == "The ford" or n % 2 else ("bob", "ann")
            ann_wins = n % 10 != 0
            games.append(
                SidedGame(
                    id=str(number),
                    first=first,
                    second=second,
                    score_x2=2 * (ann_wins == (first == "ann")),
                    scenario=scenario,
                )
            )
            number += 1
    counted = {one.key[0]: one for one in shares(games, by="scenario")}
    fair = {one.key[0]: one for one in fit(games, by="scenario").effects}
    assert counted["The ford"].unbalanced
    assert not fair["The ford"].unbalanced


def test_a_side_that_is_worth_much_is_called_unbalanced():
    found = fit(drawn_games(np.random.default_rng(3), 600, ford=1.5), by="scenario")
    assert [(one.key, one.unbalanced) for one in found.effects] == [(("The ford",), True), (("The mill",), False)]


def test_factions_are_fitted_beside_the_side_that_attacks():
    """Reds win six of nine games when they attack and six of nine when they do not; so the side is worth nothing."""
    games = []
    for n in range(18):
        reds_first, reds_win = n < 9, n % 9 < 6
        games.append(
            SidedGame(
                id=str(n),
                first="ann" if n % 2 else "bob",
                second="bob" if n % 2 else "ann",
                score_x2=2 * (reds_win == reds_first),
                first_faction="Reds" if reds_first else "Blues",
                second_faction="Blues" if reds_first else "Reds",
            )
        )
    found = fit(games, by="factions")
    assert [one.key for one in found.effects] == [("Blues", "Reds")]
    assert found.effects[0].share < 0.5
    assert found.side.share == pytest.approx(0.5, abs=0.05)


def test_strengths_have_a_mean_of_nought():
    found = fit(drawn_games(np.random.default_rng(4), 100, ford=0.0))
    assert sum(one.estimate for one in found.strengths) == pytest.approx(0.0, abs=1e-9)


def test_one_who_only_won_is_finite_with_a_prior_and_refused_without():
    games = [SidedGame(id=str(n), first="ann", second="bob", score_x2=2) for n in range(5)]
    assert 0 < fit(games).strengths[0].estimate < 5
    with pytest.raises(NoFit, match="no finite strengths"):
        fit(games, prior=None)


def test_no_games_are_no_fit_but_no_error():
    assert fit([]).strengths == ()


def test_bad_games_are_refused():
    with pytest.raises(BadGames, match="plays against themselves"):
        fit([SidedGame(id="1", first="ann", second="ann", score_x2=2)])
