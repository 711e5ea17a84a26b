"""Teams and many sides, as openskill documents its Plackett-Luce (tests/reference/ratings/README.md)."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from league.engines.ratings import ManyGame, Skill, SkillParameters, rate_many, win_chances

CASES = json.loads((Path(__file__).parents[2] / "reference/ratings/rating_examples.json").read_text(encoding="utf-8"))[
    "weng_lin"
]["cases"]
STILL = SkillParameters(tau=0.0)
NEWCOMER = Skill(mu=25.0, sigma=25.0 / 3.0)


def close(skill: Skill, published: list[float]) -> bool:
    return (skill.mu, skill.sigma) == pytest.approx(tuple(published), abs=1e-6)


@pytest.mark.parametrize(
    ("case", "ranks", "parameters"),
    [(CASES[0], (1, 2), STILL), (CASES[1], (1, 1), STILL), (CASES[2], (1, 2), SkillParameters())],
    ids=["a win", "a draw", "a win after doubt has grown"],
)
def test_two_newcomers_come_out_as_documented(case, ranks, parameters):
    game = ManyGame(id="g", sides=(("a",), ("b",)), ranks=ranks)
    skills = rate_many([game], parameters=parameters).last
    assert close(skills["a"], case["result"][0])
    assert close(skills["b"], case["result"][1])


@pytest.mark.parametrize("case", CASES[3:5], ids=["two teams of two", "four alone"])
def test_teams_and_many_sides_come_out_as_documented(case):
    sides = tuple(tuple(f"{t}.{p}" for p in range(len(team))) for t, team in enumerate(case["teams"]))
    start = {
        f"{t}.{p}": Skill(mu=mu, sigma=sigma)
        for t, team in enumerate(case["teams"])
        for p, (mu, sigma) in enumerate(team)
    }
    game = ManyGame(id="g", sides=sides, ranks=tuple(range(1, len(sides) + 1)))
    skills = rate_many([game], parameters=STILL, start=start).last
    for t, team in enumerate(case["result"]):
        for p, published in enumerate(team):
            assert close(skills[f"{t}.{p}"], published)


def test_one_who_beats_two_comes_out_as_documented():
    case = CASES[5]
    parameters = SkillParameters(mu=case["mu"], sigma=case["sigma"], tau=case["tau"])
    skills = rate_many([ManyGame(id="g", sides=(("a",), ("b", "c")), ranks=(1, 2))], parameters=parameters).last
    published = [each for team in case["result"] for each in team]
    assert all(close(skills[player], each) for player, each in zip("abc", published, strict=True))


def test_chances_of_equals_are_equal_and_add_up_to_one():
    assert win_chances([[NEWCOMER]] * 4) == pytest.approx([0.25] * 4)


def test_the_better_side_has_the_better_chance():
    better, worse = win_chances([[Skill(mu=30.0, sigma=2.0)], [NEWCOMER]])
    assert better > 0.5 > worse
