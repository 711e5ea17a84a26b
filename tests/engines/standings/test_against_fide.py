"""The numeric examples of the FIDE rule on unplayed games (2009-2022) and of progressive and median scores.

Sources: tests/reference/tiebreaks/README.md.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from league.engines.standings import Entrant, Game, Rules, Side, TieBreak, explain, standings

EXAMPLES = json.loads(
    (Path(__file__).parents[2] / "reference/tiebreaks/formula_examples.json").read_text(encoding="utf-8")
)
VIRTUAL = EXAMPLES["virtual_opponent_2009_2022"]["examples"]
WITH_OWN_FINAL = [example for example in VIRTUAL if "own_final" in example]
OUTCOMES = {0: "loss", 1: "draw", 2: "win"}
RULES = Rules(unplayed_policy="fide_2009", tie_breaks=(TieBreak(name="buchholz"),))


def half_points(total_x2: int, rounds: list[int]) -> dict[int, int]:
    """Any way to score the total in these rounds: wins first."""
    scores = {}
    for round_number in rounds:
        scores[round_number] = min(2, total_x2)
        total_x2 -= scores[round_number]
    assert total_x2 == 0
    return scores


def season(example: dict[str, float], final_x2: int) -> list[Game]:
    """The entrant "us" as the example has it, against a new opponent in every other round."""
    n, missed = int(example["n"]), int(example["R"])
    before_x2, for_it_x2 = int(example["SPR"] * 2), int(example["SfPR"] * 2)
    scores = half_points(before_x2, list(range(1, missed)))
    scores |= half_points(final_x2 - before_x2 - for_it_x2, list(range(missed + 1, n + 1)))
    games = [
        Game(
            id=f"g{round_number}",
            round=round_number,
            sides=(
                Side(entrant_id="us", outcome=OUTCOMES[score_x2]),
                Side(entrant_id=f"opponent{round_number}", outcome=OUTCOMES[2 - score_x2]),
            ),
        )
        for round_number, score_x2 in scores.items()
    ]
    if for_it_x2:
        games.append(Game(id="missed", round=missed, sides=(Side(entrant_id="us", unplayed="forfeit_win"),)))
    return games


def entrants_of(games: list[Game]) -> list[Entrant]:
    return [Entrant(id=one) for one in {side.entrant_id for game in games for side in game.sides}]


@pytest.mark.parametrize("example", VIRTUAL, ids=lambda example: f"round {example['R']} of {example['n']}")
def test_the_virtual_opponent_scores_what_the_rule_says(example: dict[str, float]) -> None:
    """Svon = SPR + (1 - SfPR) + 0.5 * (n - R), FIDE Handbook C.02 article 13 (2009-2022)."""
    least_x2 = int((example["SPR"] + example["SfPR"]) * 2)
    games = season(example, int(example.get("own_final", least_x2 / 2) * 2))
    # Games of others carry the event on to round n.
    games.append(Game(id="others", round=int(example["n"]), sides=(Side(entrant_id="z", unplayed="bye"),)))
    table = standings(entrants_of(games), games, rules=RULES)
    virtual = [reason for reason in explain(table, "us", "buchholz") if reason.kind == "virtual_opponent"]
    assert [reason.contribution for reason in virtual if reason.round == example["R"]] == [example["Svon"] * 2]


@pytest.mark.parametrize("example", WITH_OWN_FINAL, ids=lambda example: example["text"])
def test_an_unplayed_round_counts_half_a_point_for_the_opponents(example: dict[str, float]) -> None:
    """The examples' last column: what 6 points with one unplayed round are worth to the opponents."""
    games = season(example, int(example["own_final"] * 2))
    table = standings(entrants_of(games), games, rules=RULES)
    assert table.row("us").points_x2 == example["own_final"] * 2
    reasons = explain(table, "opponent1", "buchholz")
    from_us = [reason.contribution for reason in reasons if reason.opponent_id == "us"]
    assert from_us == [example["contribution_to_opponents"] * 2]


def test_the_progressive_score_adds_up_the_running_totals() -> None:
    """1, 0, 1, 1/2 run to 1, 1, 2, 2 1/2 and come to 6 1/2 (sydneyacademyofchess.com.au/tiebreak-system)."""
    example = EXAMPLES["progressive"]
    games = [
        Game(
            id=f"g{round_number}",
            round=round_number,
            sides=(
                Side(entrant_id="us", outcome=OUTCOMES[int(score * 2)]),
                Side(entrant_id=f"opponent{round_number}", outcome=OUTCOMES[2 - int(score * 2)]),
            ),
        )
        for round_number, score in enumerate(example["scores"], start=1)
    ]
    table = standings(entrants_of(games), games, rules=Rules(tie_breaks=(TieBreak(name="progressive"),)))
    value = table.row("us").values[0]
    assert (value.value, value.text) == (example["value"] * 2, str(example["value"]))


def test_the_median_leaves_out_the_highest_and_the_lowest_opponent() -> None:
    """Opponents on 4, 2, 3, 4, 5 and 6 points: 16 (source beside the values)."""
    example = EXAMPLES["median_buchholz"]
    games = []
    for number, points in enumerate(example["opponents"], start=1):
        sides = (Side(entrant_id="us", outcome="loss"), Side(entrant_id=f"opponent{number}", outcome="win"))
        games.append(Game(id=f"g{number}", round=number, sides=sides))
        for extra in range(points - 1):
            sides = (Side(entrant_id="z", outcome="loss"), Side(entrant_id=f"opponent{number}", outcome="win"))
            games.append(Game(id=f"g{number}-{extra}", sides=sides))
    table = standings(entrants_of(games), games, rules=Rules(tie_breaks=(TieBreak(name="buchholz_median1"),)))
    assert table.row("us").values[0].text == str(example["value"])
