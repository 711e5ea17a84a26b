"""Rugby seasons with bonus points: for tries, for narrow losses, for winning every game.

Sources: tests/reference/leagues/README.md; the table of 2018 is from memory.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from league.engines.standings import Bonus, Entrant, Game, Rules, Scheme, Side, Table, TieBreak, explain, standings

COMPETITIONS = json.loads((Path(__file__).parents[2] / "reference/leagues/rugby.json").read_text(encoding="utf-8"))[
    "competitions"
]
RULES = Rules(
    scheme=Scheme(
        win_x2=8,
        draw_x2=4,
        loss_x2=0,
        bonuses=(
            Bonus(kind="count_at_least", count="tries", threshold=4, points_x2=2, name="tries"),
            Bonus(kind="narrow_loss", threshold=7, points_x2=2),
            Bonus(kind="clean_sweep", threshold=5, points_x2=6),
        ),
    ),
    tie_breaks=(TieBreak(name="score_difference"), TieBreak(name="count_total", count="tries")),
)


def table_of(competition: dict[str, Any]) -> Table:
    games = [
        Game(
            id=f"{home}-{away}",
            sides=(
                Side(entrant_id=home, score=home_points, counts={"tries": home_tries}),
                Side(entrant_id=away, score=away_points, counts={"tries": away_tries}),
            ),
        )
        for _, home, away, home_points, away_points, home_tries, away_tries in competition["matches"]
    ]
    entrants = [Entrant(id=row["team"], name=row["team"]) for row in competition["final_table"]]
    return standings(entrants, games, rules=RULES)


def bonus(table: Table, team: str, name: str) -> int:
    reasons = explain(table, team, "points")
    return sum(reason.contribution for reason in reasons if reason.kind == f"bonus:{name}") // 2


@pytest.mark.parametrize("competition", COMPETITIONS, ids=lambda competition: competition["competition"])
def test_a_season_ends_in_the_published_table(competition: dict[str, Any]) -> None:
    table = table_of(competition)
    assert [
        (row.entrant_id, row.played, row.won, row.drawn, row.lost, row.score_for, row.score_against, row.points_x2 // 2)
        for row in table.rows
    ] == [
        (row["team"], row["P"], row["W"], row["D"], row["L"], row["PF"], row["PA"], row["pts"])
        for row in competition["final_table"]
    ]


@pytest.mark.parametrize("competition", COMPETITIONS, ids=lambda competition: competition["competition"])
def test_each_bonus_comes_to_the_published_column(competition: dict[str, Any]) -> None:
    table = table_of(competition)
    for row in competition["final_table"]:
        team = row["team"]
        ours = (bonus(table, team, "tries"), bonus(table, team, "narrow_loss"), bonus(table, team, "clean_sweep"))
        assert ours == (row["try_bonus"], row["losing_bonus"], row["grand_slam_bonus"])
        assert table.row(team).values[1].value == row["TF"]
