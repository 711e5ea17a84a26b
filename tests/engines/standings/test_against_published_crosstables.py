"""Crosstables of real events with the tie-breaks printed beside them.

Sources: tests/reference/tiebreaks/README.md. Players are numbers there, and entrants with those numbers here.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from league.engines.standings import Entrant, Game, Rules, Side, Table, TieBreak, standings

FOLDER = Path(__file__).parents[2] / "reference/tiebreaks"
OUTCOMES = {0: "loss", 0.5: "draw", 1: "win"}


def events(name: str) -> list[Any]:
    return json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))["events"]


def game(round_number: int, white: int, black: int, result: float) -> Game:
    return Game(
        id=f"{round_number}: {white}-{black}",
        round=round_number,
        sides=(
            Side(entrant_id=str(white), outcome=OUTCOMES[result]),
            Side(entrant_id=str(black), outcome=OUTCOMES[1 - result]),
        ),
    )


def numbered(how_many: int) -> list[Entrant]:
    return [Entrant(id=str(number)) for number in range(1, how_many + 1)]


def points(table: Table, how_many: int) -> list[Fraction]:
    return [Fraction(table.row(str(number)).points_x2, 2) for number in range(1, how_many + 1)]


def column(table: Table, how_many: int, place: int = 0) -> list[Fraction]:
    cells = [table.row(str(number)).values[place] for number in range(1, how_many + 1)]
    return [Fraction(cell.value, cell.scale) for cell in cells]


def round_robin(event: dict[str, Any], rules: Rules) -> Table:
    games = [
        game(0, row + 1, other + 1, result)
        for row, results in enumerate(event["crosstable"])
        for other, result in enumerate(results)
        if other > row
    ]
    return standings(numbered(event["players"]), games, rules=rules)


@pytest.mark.parametrize("event", events("round_robin_sonneborn_berger"), ids=lambda event: event["name"])
def test_sonneborn_berger_of_a_round_robin_is_what_was_printed(event: dict[str, Any]) -> None:
    table = round_robin(event, Rules(tie_breaks=(TieBreak(name="sonneborn_berger"),)))
    assert points(table, event["players"]) == event["points"]
    for ours, printed in zip(column(table, event["players"]), event["published_sonneborn_berger"], strict=True):
        assert printed is None or ours == printed


def test_three_on_the_same_points_are_ordered_by_sonneborn_berger() -> None:
    """4 1/2 points each: printed in the order 18.75, 15, 13.25 (Maiturnier 2016)."""
    event = events("round_robin_sonneborn_berger")[1]
    table = round_robin(event, Rules(tie_breaks=(TieBreak(name="sonneborn_berger"),)))
    assert [(row.entrant_id, row.rank) for row in table.rows[4:7]] == [("5", 5), ("6", 6), ("7", 7)]


def test_two_equal_on_everything_share_a_place() -> None:
    """1 1/2 points, Sonneborn-Berger 1.25, and drew with each other: a shared place in print too (rapid 2020)."""
    event = events("round_robin_sonneborn_berger")[2]
    order = (TieBreak(name="sonneborn_berger"), TieBreak(name="direct_encounter"))
    table = round_robin(event, Rules(tie_breaks=order))
    assert [(row.entrant_id, row.rank, row.shared) for row in table.rows[4:]] == [
        ("5", 5, True),
        ("6", 5, True),
        ("7", 7, False),
    ]


@pytest.mark.parametrize("event", events("swiss_no_byes"), ids=lambda event: event["name"])
@pytest.mark.parametrize("policy", ["as_scored", "fide_2009", "fide_2023"])
def test_buchholz_of_a_swiss_event_is_what_was_printed(event: dict[str, Any], policy: Any) -> None:
    games = [
        game(round_number, player["no"], opponent, result)
        for player in event["players"]
        for round_number, (opponent, result) in enumerate(player["rounds"], start=1)
        if player["no"] < opponent
    ]
    names = ("sonneborn_berger", "buchholz", "sum_of_buchholz")
    rules = Rules(unplayed_policy=policy, tie_breaks=tuple(TieBreak(name=name) for name in names))
    table = standings(numbered(len(event["players"])), games, rules=rules)
    printed = [list(player["published"].values()) for player in event["players"]]
    for place in range(len(names)):
        assert column(table, len(printed), place) == [values[place] for values in printed]


def swiss_with_byes(event: dict[str, Any], *tie_breaks: TieBreak) -> Table:
    results = event["results"]
    games = []
    for round_number, pairings in enumerate(event["one_consistent_round_order"], start=1):
        games += [game(round_number, one, two, results[one - 1][str(two)]) for one, two in pairings["games"]]
        games += [
            Game(
                id=f"{round_number}: bye {one}", round=round_number, sides=(Side(entrant_id=str(one), unplayed="bye"),)
            )
            for one in pairings["bye"]
        ]
    return standings(numbered(len(results)), games, rules=Rules(unplayed_policy="fide_2009", tie_breaks=tie_breaks))


def test_buchholz_with_byes_is_what_was_printed() -> None:
    event = events("swiss_with_byes_small")[1]
    table = swiss_with_byes(event, TieBreak(name="buchholz"))
    assert points(table, 9) == event["points"]
    assert column(table, 9) == event["published_buchholz"]


def test_buchholz_cut_1_with_byes_is_what_was_printed() -> None:
    event = events("swiss_with_byes_small")[0]
    table = swiss_with_byes(event, TieBreak(name="buchholz_cut1"))
    assert points(table, 7) == event["points"]
    assert column(table, 7) == event["published_buchholz_cut1"]


def test_direct_encounter_is_what_was_printed() -> None:
    """2 beat 3 and 6 drew with 7; each pair is level on points (7 players)."""
    event = events("swiss_with_byes_small")[0]
    table = swiss_with_byes(event, TieBreak(name="direct_encounter"))
    printed = event["published_direct_encounter"]
    assert {number: table.row(number).values[0].value for number in printed} == printed
