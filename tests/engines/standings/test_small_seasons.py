"""Seasons small enough to count on one's fingers, one idea each."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from league.engines.standings import (
    Adjustment,
    Bonus,
    Entrant,
    Game,
    Reason,
    Rules,
    Scheme,
    Side,
    TieBreak,
    explain,
    standings,
)


def ranks(table) -> list[tuple[int, str]]:
    return [(row.rank, row.entrant_id) for row in table.rows]


def test_a_season_without_entrants_has_an_empty_table() -> None:
    assert standings((), ()).rows == ()


def test_a_season_before_its_first_game_has_everybody_level(entrants) -> None:
    table = standings(entrants("a", "b"), (), rules=Rules(tie_breaks=(TieBreak(name="buchholz"),)))
    assert ranks(table) == [(1, "a"), (1, "b")]
    assert table.row("a").points_per_game is None


def test_an_entrant_who_is_not_in_the_table_is_not_found(entrants) -> None:
    with pytest.raises(KeyError):
        standings(entrants("a"), ()).row("b")


def test_a_column_that_is_not_in_the_table_is_not_explained(entrants) -> None:
    with pytest.raises(KeyError):
        explain(standings(entrants("a"), ()), "a", "buchholz")


def test_a_game_of_three_is_won_by_the_best_and_lost_by_the_rest(entrants, scored) -> None:
    table = standings(entrants("a", "b", "c"), [scored("g", 1, a=9, b=5, c=2)])
    assert {row.entrant_id: (row.won, row.lost, row.score_against) for row in table.rows} == {
        "a": (1, 0, 5),
        "b": (0, 1, 9),
        "c": (0, 1, 9),
    }


def test_the_second_of_three_has_beaten_the_third(entrants, scored) -> None:
    rules = Rules(tie_breaks=(TieBreak(name="direct_encounter"),))
    table = standings(entrants("a", "b", "c"), [scored("g", 1, a=9, b=5, c=2)], rules=rules)
    assert ranks(table) == [(1, "a"), (2, "b"), (3, "c")]
    assert [reason.kind for reason in explain(table, "b", "direct_encounter")] == ["win"]


def test_both_sides_of_a_game_can_lose_it(entrants) -> None:
    sides = (Side(entrant_id="a", outcome="loss"), Side(entrant_id="b", outcome="loss"))
    table = standings(entrants("a", "b"), [Game(id="g", round=1, sides=sides)])
    assert [(row.lost, row.points_x2) for row in table.rows] == [(1, 0), (1, 0)]


def test_a_stated_outcome_is_believed_over_the_scores(entrants) -> None:
    sides = (Side(entrant_id="a", score=9, outcome="draw"), Side(entrant_id="b", score=8, outcome="draw"))
    table = standings(entrants("a", "b"), [Game(id="g", round=1, sides=sides)])
    assert [(row.drawn, row.points_x2) for row in table.rows] == [(1, 1), (1, 1)]


def test_showing_up_scores_in_every_game_played_and_in_no_other(entrants, scored, unplayed) -> None:
    games = [scored("g", 1, a=1, b=0), unplayed("h", 2, a="absent"), unplayed("i", 2, b="bye")]
    table = standings(entrants("a", "b"), games, rules=Rules(scheme=Scheme(showing_up_x2=1, bye_x2=1)))
    assert {row.entrant_id: (row.played, row.unplayed, row.points_x2) for row in table.rows} == {
        "a": (1, 1, 3),
        "b": (1, 1, 2),
    }


def test_objectives_score_for_the_loser_too(entrants) -> None:
    scheme = Scheme(bonuses=(Bonus(kind="count_at_least", count="objectives", threshold=2, points_x2=1),))
    sides = (
        Side(entrant_id="a", outcome="win", counts={"objectives": 1}),
        Side(entrant_id="b", outcome="loss", counts={"objectives": 2}),
    )
    table = standings(entrants("a", "b"), [Game(id="g", round=1, sides=sides)], rules=Rules(scheme=scheme))
    assert {row.entrant_id: row.points_x2 for row in table.rows} == {"a": 2, "b": 1}


def test_a_big_win_scores_its_margin(entrants, scored) -> None:
    scheme = Scheme(bonuses=(Bonus(kind="margin", threshold=3, points_x2=2),))
    games = [scored("g", 1, a=4, b=1), scored("h", 2, b=3, a=1)]
    table = standings(entrants("a", "b"), games, rules=Rules(scheme=scheme))
    assert {row.entrant_id: row.points_x2 for row in table.rows} == {"a": 4, "b": 2}


def test_points_taken_say_why(entrants, scored) -> None:
    taken = Adjustment(entrant_id="a", points_x2=-3, reason="List handed in late", round=1)
    table = standings(entrants("a", "b"), [scored("g", 1, a=1, b=0)], [taken])
    assert table.row("a").points_x2 == -1
    assert explain(table, "a", "points") == (
        Reason(kind="win", contribution=2, game_id="g", round=1, opponent_id="b"),
        Reason(kind="adjustment", contribution=-3, round=1, note="List handed in late"),
    )


def test_points_taken_later_do_not_show_in_a_look_back(entrants, scored) -> None:
    taken = Adjustment(entrant_id="a", points_x2=-3, reason="List handed in late", round=2)
    table = standings(entrants("a", "b"), [scored("g", 1, a=1, b=0)], [taken], through_round=1)
    assert table.row("a").points_x2 == 2


def test_opponents_lose_points_but_not_strength(entrants, scored) -> None:
    """A deduction says nothing about how hard it was to meet them (ours; common practice, no source)."""
    taken = Adjustment(entrant_id="a", points_x2=-2, reason="List handed in late")
    rules = Rules(tie_breaks=(TieBreak(name="buchholz"),))
    table = standings(entrants("a", "b"), [scored("g", 1, a=1, b=0)], [taken], rules)
    assert table.row("b").values[0].value == 2


def test_a_forfeit_counts_among_those_level_only_where_unplayed_games_count_as_scored(entrants, unplayed) -> None:
    games = [unplayed("g", 1, a="forfeit_win", b="forfeit_loss"), unplayed("h", 2, b="forfeit_win")]
    rules = Rules(tie_breaks=(TieBreak(name="direct_encounter"),))
    assert ranks(standings(entrants("a", "b"), games, rules=rules)) == [(1, "a"), (2, "b")]
    rules = replace(rules, unplayed_policy="fide_2009")
    assert ranks(standings(entrants("a", "b"), games, rules=rules)) == [(1, "a"), (1, "b")]


def test_direct_encounter_waits_until_all_have_met(entrants, scored) -> None:
    games = [scored("g", 1, a=1, b=0), scored("h", 2, b=1, c=0), scored("i", 3, c=1, d=0)]
    waiting = Rules(tie_breaks=(TieBreak(name="direct_encounter"),))
    table = standings(entrants("a", "b", "c", "d"), games, rules=waiting)
    assert ranks(table) == [(1, "a"), (1, "b"), (1, "c"), (4, "d")]
    at_once = Rules(tie_breaks=(TieBreak(name="direct_encounter", wait=False, pieces=("points",)),))
    table = standings(entrants("a", "b", "c", "d"), games, rules=at_once)
    assert ranks(table) == [(1, "a"), (1, "b"), (3, "c"), (4, "d")]


def test_direct_encounter_is_applied_again_to_those_it_leaves_level(entrants, scored) -> None:
    """Of three level ones a and b took 1½ points from these games and c took 1; between a and b, a has won."""
    games = [scored("g", 1, a=1, b=0), scored("h", 2, b=3, c=2), scored("i", 3, c=0, a=0), scored("j", 4, b=1, c=1)]
    level = [Adjustment(entrant_id="c", points_x2=1, reason="Brought level")]
    for reapply, expected in ((False, [(1, "a"), (1, "b"), (3, "c")]), (True, [(1, "a"), (2, "b"), (3, "c")])):
        tie_break = TieBreak(name="direct_encounter", pieces=("points",), reapply=reapply)
        assert ranks(standings(entrants("a", "b", "c"), games, level, Rules(tie_breaks=(tie_break,)))) == expected


def test_points_per_game_are_for_tables_with_games_in_hand(entrants, scored) -> None:
    games = [scored("g", 1, a=1, c=0), scored("h", 1, b=1, d=0), scored("i", 2, b=0, c=0)]
    table = standings(entrants("a", "b", "c", "d"), games, rules=Rules(rank_by="points_per_game"))
    assert [(row.entrant_id, row.points_per_game) for row in table.rows] == [
        ("a", Fraction(1)),
        ("b", Fraction(3, 4)),
        ("c", Fraction(1, 4)),
        ("d", Fraction(0)),
    ]


def test_the_average_against_nothing_is_written_as_endless(entrants, scored) -> None:
    rules = Rules(tie_breaks=(TieBreak(name="score_average"),))
    table = standings(entrants("a", "b"), [scored("g", 1, a=2, b=0)], rules=rules)
    assert [(row.values[0].value, row.values[0].text) for row in table.rows] == [(None, "∞"), (Fraction(0), "0.000")]


def test_lots_depend_on_the_seed_and_on_nobody_else(entrants) -> None:
    rules = Rules(seed=7, tie_breaks=(TieBreak(name="drawn_lot"),))
    alone = standings(entrants("a"), (), rules=rules).row("a").values
    assert standings(entrants("b", "a", "c"), (), rules=rules).row("a").values == alone
    assert standings(entrants("a"), (), rules=replace(rules, seed=8)).row("a").values != alone


def test_results_of_leavers_are_kept_or_annulled(entrants, scored) -> None:
    games = [scored("g", 1, a=1, gone=0), scored("h", 1, b=0, c=0)]
    everybody = (*entrants("a", "b", "c"), Entrant(id="gone", left=True))
    kept = standings(everybody, games, rules=Rules(leavers="keep"))
    assert [row.entrant_id for row in kept.rows] == ["a", "b", "c", "gone"]
    annulled = standings(everybody, games, rules=Rules(leavers="annul"))
    assert ranks(annulled) == [(1, "b"), (1, "c"), (3, "a")]


def test_a_cut_is_told_beside_the_opponents(entrants, scored) -> None:
    games = [scored("g", 1, a=1, b=0), scored("h", 2, a=0, c=1)]
    table = standings(entrants("a", "b", "c"), games, rules=Rules(tie_breaks=(TieBreak(name="buchholz_cut1"),)))
    assert [(r.kind, r.opponent_id, r.contribution) for r in explain(table, "a", "buchholz_cut1")] == [
        ("played", "b", 0),
        ("played", "c", 2),
        ("cut", "b", 0),
    ]


def test_the_rule_of_2023_cuts_a_round_stayed_away_from_first(entrants, scored, unplayed) -> None:
    """From memory of the regulations: a dummy opponent with one's own points, and voluntary absences cut first."""
    games = [
        scored("g", 1, a=1, b=0),
        unplayed("h", 2, a="absent"),
        unplayed("i", 2, b="bye"),
        scored("j", 3, a=1, b=0),
    ]
    rules = Rules(unplayed_policy="fide_2023", tie_breaks=(TieBreak(name="buchholz_cut1"),))
    table = standings(entrants("a", "b"), games, rules=rules)
    assert [(r.kind, r.round, r.contribution) for r in explain(table, "a", "buchholz_cut1")] == [
        ("played", 1, 2),
        ("played", 3, 2),
        ("dummy_opponent", 2, 4),
        ("cut", 2, -4),
    ]


@pytest.mark.parametrize(("points_x2", "text"), [(25, "12.5"), (24, "12"), (-1, "-0.5"), (0, "0")])
def test_half_points_are_written_out(entrants, scored, points_x2, text) -> None:
    scheme = Scheme(win_x2=points_x2, draw_x2=0, loss_x2=points_x2)
    games = [scored("g", 1, a=1, b=0)]
    table = standings(entrants("a", "b"), games, rules=Rules(scheme=scheme, tie_breaks=(TieBreak(name="progressive"),)))
    assert table.row("a").values[0].text == text
