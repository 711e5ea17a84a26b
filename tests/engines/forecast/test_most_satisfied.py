"""How many can have enough at once, against every way all games can end, also for games that give the oddest things."""

from __future__ import annotations

from itertools import combinations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from league.engines.forecast.games import Open, best_ways
from league.engines.forecast.most import most_satisfied

PLENTY = 100_000
ENDS = [
    ((2, 0), (1, 1), (0, 2)),
    ((3, 0), (1, 1), (0, 3)),
    ((3, 0), (2, 2), (0, 3)),
    ((5, 1), (4, 2), (2, 2), (2, 4), (1, 5)),
    ((7, 0), (4, 3), (0, 5)),
    ((1, 0), (0, 1)),
]

law = settings(deadline=None, max_examples=200)


@st.composite
def contests(draw: st.DrawFn, kinds: st.SearchStrategy[int]) -> tuple[list[int], list[Open]]:
    needs = draw(st.lists(st.integers(-1, 9), min_size=4, max_size=5))
    pairs = draw(st.lists(st.sampled_from(list(combinations(range(len(needs)), 2))), min_size=3, max_size=6))
    kind = draw(kinds)
    games = [
        Open(first=a, second=b, ways=best_ways(ENDS[kind if kind >= 0 else draw(st.integers(0, len(ENDS) - 1))]))
        for a, b in pairs
    ]
    return needs, games


def counted(needs: list[int], games: list[Open]) -> int:
    most = 0
    for ends in product(*(game.ways for game in games)):
        left = list(needs)
        for game, (a, b) in zip(games, ends, strict=True):
            left[game.first] -= a
            left[game.second] -= b
        most = max(most, sum(need <= 0 for need in left))
    return most


@law
@given(contest=contests(st.integers(0, len(ENDS) - 1)))
def test_where_all_games_are_of_one_kind_it_is_the_best_of_all_ends(contest):
    found = most_satisfied(*contest, limit=PLENTY)
    assert (found.low, found.high) == (counted(*contest),) * 2


@law
@given(contest=contests(st.just(-1)))
def test_where_every_game_is_of_another_kind_it_is_the_best_of_all_ends(contest):
    found = most_satisfied(*contest, limit=PLENTY)
    assert (found.low, found.high) == (counted(*contest),) * 2


@law
@given(contest=contests(st.integers(-1, len(ENDS) - 1)), limit=st.integers(0, 3))
def test_a_short_search_has_the_best_of_all_ends_within_its_bounds(contest, limit):
    found = most_satisfied(*contest, limit=limit)
    assert found.low <= counted(*contest) <= found.high


def test_an_end_that_is_worse_for_both_is_left_out():
    assert best_ways([(3, 0), (1, 1), (1, 0), (0, 3), (0, 3)]) == ((0, 3), (1, 1), (3, 0))


def test_three_who_each_need_two_of_three_points_need_a_game_each():
    """Three games of three points have nine, but nobody gets two points of a game without taking it whole."""
    games = [Open(first=a, second=b, ways=((0, 3), (1, 1), (3, 0))) for a, b in ((0, 1), (1, 2), (0, 2), (0, 3))]
    assert most_satisfied([2, 2, 2, 2], games, limit=PLENTY).high == 4
    assert most_satisfied([2, 2, 2, 2], games[:2] + games[3:], limit=PLENTY).high == 3
