"""Seasons in which one plays whom one likes: the best results, the first meetings, the least number of games."""

from __future__ import annotations

import pytest

from league.engines.documents.season import read_season, standings_of
from league.engines.standings import explain

WIN, DRAW, LOSS = (9, 4), (5, 5), (4, 9)


def season(games, **pairing):
    """`games`: (first, second, scores), one a day."""
    people = sorted({each for first, second, _scores in games for each in (first, second)})
    return read_season(
        {
            "format": "drumhead season 1",
            "name": "Open on the Sedge",
            "starts_on": "2026-01-01",
            "rules": {"scheme": {"win_x2": 6, "draw_x2": 2, "loss_x2": 0, "showing_up_x2": 1}},
            "pairing": {"format": "open", **pairing},
            "entrants": [{"id": each, "name": each.title()} for each in people],
            "games": [
                {
                    "id": f"g{number}",
                    "round": 0,
                    "on": f"2026-01-{number:02}",
                    "sides": [{"entrant": first, "score": scores[0]}, {"entrant": second, "score": scores[1]}],
                }
                for number, (first, second, scores) in enumerate(games, start=1)
            ],
        }
    )


MANY = [("ada", "bo", WIN), ("ada", "bo", DRAW), ("ada", "cy", LOSS), ("ada", "cy", WIN), ("bo", "cy", WIN)]


def points(document):
    return {row.entrant_id: row.points_x2 for row in standings_of(document).rows}


def test_without_limits_every_result_counts():
    assert points(season(MANY)) == {"ada": 7 + 3 + 1 + 7, "bo": 1 + 3 + 7, "cy": 7 + 1 + 1}


def test_only_the_best_results_count():
    assert points(season(MANY, best_of=2)) == {"ada": 14, "bo": 10, "cy": 8}


def test_the_reasons_still_add_up_and_say_what_is_left_out():
    table = standings_of(season(MANY, best_of=2))
    reasons = explain(table, "ada", "points")
    assert sum(each.contribution for each in reasons) == 14
    assert sorted(each.game_id for each in reasons if each.note == "not among the best results") == ["g2", "g3"]


def test_of_games_against_one_opponent_the_first_count():
    assert points(season(MANY, most_against=1)) == {"ada": 7 + 1, "bo": 1 + 7, "cy": 7 + 1}


def test_who_has_not_played_enough_stands_below_everybody_who_has():
    document = season([("ada", "bo", WIN), ("bo", "cy", DRAW), ("cy", "bo", DRAW)], least_games=2)
    assert [row.entrant_id for row in standings_of(document).rows][-1] == "ada"


@pytest.mark.parametrize("best_of", [1, 2, 3, 4, 5])
def test_more_results_that_count_never_cost_anybody_points(best_of):
    fewer, more = points(season(MANY, best_of=best_of)), points(season(MANY, best_of=best_of + 1))
    assert all(more[each] >= fewer[each] for each in more)
