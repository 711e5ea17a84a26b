"""From a season to its outlook: what is taken from the games, and what is refused."""

from __future__ import annotations

import numpy as np
import pytest

from league.engines.forecast import BadForecast, Fixture, Result, exact_odds, outlook_of
from league.engines.standings import Bonus, Entrant, Game, Rules, Scheme, Side

ANN, BOB, CAT = (Entrant(id=one, name=one.title()) for one in ("ann", "bob", "cat"))
TRIO = (ANN, BOB, CAT)


def game(number: int, **scores: int) -> Game:
    return Game(
        id=f"g{number}", round=number, sides=tuple(Side(entrant_id=one, score=score) for one, score in scores.items())
    )


def test_it_is_in_order_of_todays_table():
    outlook = outlook_of(TRIO, [game(1, bob=3, ann=0)])
    assert outlook.ids[0] == "bob"
    assert outlook.points_x2.tolist() == [2, 0, 0]


def test_a_bye_that_is_paired_is_as_good_as_scored():
    outlook = outlook_of(TRIO, [], fixtures=[Fixture(id="f", first="cat", second=None)])
    assert dict(zip(outlook.ids, outlook.points_x2.tolist(), strict=True)) == {"ann": 0, "bob": 0, "cat": 2}
    assert outlook.fixtures == ()
    assert outlook.had_bye.tolist() == [one == "cat" for one in outlook.ids]


def test_fixtures_come_in_order_of_their_rounds():
    fixtures = [
        Fixture(id="late", first="ann", second="bob", round=3),
        Fixture(id="soon", first="ann", second="cat", round=2),
    ]
    assert [one.id for one in outlook_of(TRIO, [], fixtures=fixtures).fixtures] == ["soon", "late"]


def test_one_who_left_is_not_drawn_any_more():
    gone = Entrant(id="dan", left=True)
    outlook = outlook_of((*TRIO, gone), [], rounds_to_draw=1)
    assert dict(zip(outlook.ids, outlook.active.tolist(), strict=True))["dan"] is False


def test_a_game_ends_in_a_win_a_draw_or_a_loss():
    outlook = outlook_of(TRIO, [], rules=Rules(scheme=Scheme(win_x2=6, draw_x2=2, showing_up_x2=1)))
    assert outlook.results == (
        Result(outcome="win", first_x2=7, second_x2=1),
        Result(outcome="draw", first_x2=3, second_x2=3),
        Result(outcome="loss", first_x2=1, second_x2=7),
    )


def test_bonuses_come_only_in_combinations_that_a_score_can_bring_about():
    """Won by three or more, lost by five or less: by two, by four, by six. Not: neither."""
    scheme = Scheme(
        bonuses=(Bonus(kind="margin", threshold=3, points_x2=1), Bonus(kind="narrow_loss", threshold=5, points_x2=1))
    )
    wins = [one for one in outlook_of(TRIO, [], rules=Rules(scheme=scheme)).results if one.outcome == "win"]
    assert {(one.first_x2, one.second_x2) for one in wins} == {(2, 1), (3, 1), (3, 0)}


def test_each_side_may_earn_a_bonus_for_what_is_counted():
    scheme = Scheme(bonuses=(Bonus(kind="count_at_least", count="flags", threshold=4, points_x2=1),))
    draws = [one for one in outlook_of(TRIO, [], rules=Rules(scheme=scheme)).results if one.outcome == "draw"]
    assert {(one.first_x2, one.second_x2) for one in draws} == {(1, 1), (2, 1), (1, 2), (2, 2)}


def test_draws_and_bonuses_are_expected_as_often_as_they_were_seen():
    """One draw and two decided games, one of them won by three: a draw in (1 + 1) / (3 + 3), the bonus after
    (1 + 1/2) / (2 + 1) of wins, as Laplace's rule has it."""
    scheme = Scheme(bonuses=(Bonus(kind="margin", threshold=3, points_x2=1),))
    games = [game(1, ann=1, bob=1), game(2, ann=5, cat=0), game(3, bob=1, cat=2)]
    outlook = outlook_of(TRIO, games, rules=Rules(scheme=scheme))
    assert outlook.draws == pytest.approx(2 / 6)
    of_wins = {
        one.first_x2: weight
        for one, weight in zip(outlook.results, outlook.weights, strict=True)
        if one.outcome == "win"
    }
    assert of_wins == {2: pytest.approx(0.5), 3: pytest.approx(0.5)}


def test_expectations_are_asked_for_the_pairs_that_meet():
    outlook = outlook_of(
        TRIO, [], fixtures=[Fixture(id="f", first="ann", second="bob")], expected=lambda a, b: 1.0, draws=0.0
    )
    chances = {one.entrant_id: one.chance for one in exact_odds(outlook).top(1)}
    assert chances == {"ann": 1.0, "bob": 0.0, "cat": 0.0}


def test_everything_wrong_is_said_at_once():
    rules = Rules(
        rank_by="points_per_game",
        scheme=Scheme(win_x2=1, draw_x2=2, bonuses=(Bonus(kind="clean_sweep", threshold=3, points_x2=1),)),
    )
    fixtures = [Fixture(id="f", first="ann", second="ann"), Fixture(id="f", first="ann", second="ghost")]
    with pytest.raises(BadForecast) as bad:
        outlook_of(TRIO, [], rules=rules, fixtures=fixtures, rounds_to_draw=-1, draws=2.0)
    assert bad.value.violations == (
        "Only a table ranked by points is forecast, not one by points per game.",
        "A bonus for a clean sweep hangs on the whole season, which is not forecast.",
        "A win must be worth a draw at least, and a draw a loss.",
        "There cannot be -1 rounds to draw.",
        "The share of draws lies between 0 and 1, not at 2.0.",
        "Fixture f is there more than once.",
        "Fixture f: ann plays against themselves.",
        "Fixture f: ghost does not play in this season, or plays no more.",
    )


def test_an_impossible_expectation_is_refused():
    with pytest.raises(BadForecast, match=r"cannot expect 1\.5 against bob"):
        outlook_of(TRIO, [], fixtures=[Fixture(id="f", first="ann", second="bob")], expected=lambda a, b: 1.5)


def test_those_who_met_are_known_also_from_open_fixtures():
    outlook = outlook_of(TRIO, [game(1, ann=1, bob=0)], fixtures=[Fixture(id="f", first="ann", second="cat")])
    ann, bob, cat = (outlook.ids.index(one) for one in ("ann", "bob", "cat"))
    assert outlook.met[ann, bob]
    assert outlook.met[cat, ann]
    assert not outlook.met[bob, cat]
    assert np.array_equal(outlook.met, outlook.met.T)
