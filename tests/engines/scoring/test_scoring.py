"""A report's scores, or everything about them that cannot be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.engines.rulesets import Objective, Scenario, ScenarioSide
from league.engines.scoring import (
    FieldedUnit,
    ImpossibleScore,
    SideClaim,
    UnitLoss,
    destroyed_points,
    score_report,
)

BRIDGE = Objective(key="bridge", name="Holds the bridge", points=3, most=1, shared=True)
FLAGS = Objective(key="flags", name="Flags taken", points=2, most=2)


def scenario(*, sides=2, **facts):
    keys = ("north", "south", "island", "sea")[:sides]
    return Scenario(key="pond", name="Pond", sides=tuple(ScenarioSide(key=key, name=key) for key in keys), **facts)


def scores(*typed, conceded=()):
    return [
        SideClaim(position=number, score=score, conceded=number in conceded)
        for number, score in enumerate(typed, start=1)
    ]


def counts(*reached):
    return [SideClaim(position=number, objectives=each) for number, each in enumerate(reached, start=1)]


def outcomes(rules, sides):
    return [each.outcome for each in score_report(rules, sides)]


def faults(rules, sides, **options):
    with pytest.raises(ImpossibleScore) as refused:
        score_report(rules, sides, **options)
    return [(each.place, each.code) for each in refused.value.violations]


def test_the_better_score_wins():
    assert outcomes(None, scores(3, 5)) == ["loss", "win"]


def test_equal_scores_are_a_draw():
    assert outcomes(None, scores(5, 5)) == ["draw", "draw"]


@pytest.mark.parametrize(("score", "outcome"), [(9, "draw"), (8, "draw"), (7, "win")])
def test_within_the_draw_margin_nobody_wins(score, outcome):
    assert outcomes(scenario(draw_margin=2), scores(10, score))[0] == outcome


def test_of_three_the_best_wins_and_the_others_lose():
    assert outcomes(scenario(sides=3), scores(4, 7, 4)) == ["loss", "win", "loss"]


def test_of_three_the_two_best_may_share_a_draw():
    assert outcomes(scenario(sides=3, draw_margin=1), scores(6, 7, 5)) == ["draw", "draw", "loss"]


def test_objectives_make_the_score():
    report = score_report(scenario(objectives=(BRIDGE, FLAGS)), counts({"bridge": 1, "flags": 2}, {"flags": 1}))
    assert [each.score for each in report] == [7, 2]


def test_a_score_of_objectives_goes_no_higher_than_the_scenario_allows():
    report = score_report(scenario(objectives=(BRIDGE, FLAGS), score_most=5), counts({"bridge": 1, "flags": 2}, {}))
    assert [each.score for each in report] == [5, 0]


def test_a_typed_score_that_agrees_with_the_objectives_is_accepted():
    side = SideClaim(position=1, score=7, objectives={"bridge": 1, "flags": 2})
    report = score_report(scenario(objectives=(BRIDGE, FLAGS)), [side, *scores(0, 1)[1:]])
    assert [each.score for each in report] == [7, 1]


def test_a_side_that_concedes_loses_whatever_the_score():
    assert outcomes(None, scores(10, 3, conceded={1})) == ["loss", "win"]


def test_a_concession_needs_no_scores():
    report = score_report(None, scores(None, None, conceded={2}))
    assert [(each.score, each.outcome) for each in report] == [(None, "win"), (None, "loss")]


def test_where_one_of_three_concedes_the_others_go_on_scoring():
    assert outcomes(scenario(sides=3), scores(4, 9, 4, conceded={2})) == ["draw", "loss", "draw"]


def test_the_sides_come_back_as_they_were_told():
    sides = [SideClaim(position=7, score=1), SideClaim(position=2, score=3)]
    assert [each.position for each in score_report(None, sides)] == [7, 2]


def test_a_missing_score_is_told():
    assert faults(None, scores(3, None)) == [("sides[2]", "missing_score")]


def test_everything_that_cannot_be_is_told_at_once():
    rules = scenario(objectives=(BRIDGE, FLAGS), rounds_most=6)
    sides = [
        SideClaim(position=1, score=9, objectives={"bridge": 1, "flags": 3, "boats": 1}),
        SideClaim(position=2, score=-1, objectives={"bridge": 1, "flags": -1}),
    ]
    assert faults(rules, sides, rounds_played=7) == [
        ("rounds_played", "too_many_rounds"),
        ("sides[1].objectives.flags", "objective_above_most"),
        ("sides[1].objectives.boats", "unknown_objective"),
        ("sides[1]", "score_above_most"),
        ("sides[2].objectives.flags", "negative_count"),
        ("sides[2]", "negative_score"),
        ("sides[2]", "score_differs"),
        ("objectives.bridge", "shared_above_most"),
    ]


def test_the_words_are_filled_in():
    with pytest.raises(ImpossibleScore, match="the objectives come to 3, but the score says 4"):
        score_report(
            scenario(objectives=(BRIDGE,), score_most=9),
            [SideClaim(position=1, score=4, objectives={"bridge": 1}), *scores(0, 0)[1:]],
        )


def test_an_objective_without_limit_may_be_reached_any_number_of_times():
    units = Objective(key="units", name="Units destroyed", points=1)
    assert [each.score for each in score_report(scenario(objectives=(units,)), counts({"units": 99}, {}))] == [99, 0]


def test_a_shared_objective_is_counted_over_all_sides():
    mills = Objective(key="mills", name="Mills", points=1, most=4, shared=True)
    rules = scenario(sides=3, objectives=(mills,))
    assert faults(rules, counts({"mills": 2}, {"mills": 2}, {"mills": 1})) == [
        ("objectives.mills", "shared_above_most")
    ]
    assert outcomes(rules, counts({"mills": 2}, {"mills": 1}, {"mills": 1})) == ["win", "loss", "loss"]


def test_a_side_that_claims_too_much_of_a_shared_objective_is_told_once():
    bridges = [SideClaim(position=1, objectives={"bridge": 2}), SideClaim(position=2, score=0)]
    assert faults(scenario(objectives=(BRIDGE,)), bridges) == [("objectives.bridge", "shared_above_most")]


def test_the_highest_score_the_scenario_allows_is_accepted():
    assert outcomes(scenario(score_most=20), scores(20, 0)) == ["win", "loss"]


def test_objectives_without_a_scenario_are_unknown():
    assert faults(None, counts({"flags": 1}, {})) == [
        ("sides[1].objectives.flags", "unknown_objective"),
        ("sides[1]", "missing_score"),
        ("sides[2]", "missing_score"),
    ]


def test_not_every_side_can_concede():
    assert faults(None, scores(1, 2, conceded={1, 2})) == [("sides", "all_conceded")]


def test_the_report_has_the_sides_of_the_scenario():
    assert faults(scenario(sides=3), scores(1, 2)) == [("sides", "wrong_number_of_sides")]


def test_it_takes_two():
    assert faults(None, scores(1)) == [("sides", "too_few_sides")]


def test_one_side_is_reported_once():
    twice = [SideClaim(position=1, score=1), SideClaim(position=1, score=2)]
    assert faults(None, twice) == [("sides", "side_twice")]


def test_the_last_round_may_be_played():
    assert len(score_report(scenario(rounds_most=6), scores(1, 2), rounds_played=6)) == 2


several_scores = st.lists(st.integers(0, 30), min_size=2, max_size=4)


@given(several_scores, st.integers(0, 5))
def test_somebody_wins_alone_or_several_draw(typed, margin):
    won = outcomes(scenario(sides=len(typed), draw_margin=margin), scores(*typed))
    wins, draws = won.count("win"), won.count("draw")
    assert (wins, draws) == (1, 0) or (wins == 0 and draws > 1)


@given(several_scores, st.integers(0, 5), st.randoms())
def test_the_order_of_the_sides_does_not_matter(typed, margin, random):
    sides = scores(*typed)
    shuffled = random.sample(sides, len(sides))
    rules = scenario(sides=len(typed), draw_margin=margin)
    assert sorted(score_report(rules, sides), key=lambda each: each.position) == sorted(
        score_report(rules, shuffled), key=lambda each: each.position
    )


@given(several_scores, st.integers(0, 5), st.integers(0, 9))
def test_the_same_points_more_for_everyone_change_no_outcome(typed, margin, more):
    rules = scenario(sides=len(typed), draw_margin=margin)
    assert outcomes(rules, scores(*typed)) == outcomes(rules, scores(*(each + more for each in typed)))


UNITS = [FieldedUnit(id=1, points=65, figures=10), FieldedUnit(id=2, points=40, figures=8)]


def test_a_destroyed_unit_is_worth_all_its_points():
    assert destroyed_points(UNITS, [UnitLoss(unit_id=1, figures_lost=6, destroyed=True)], "destroyed") == 65
    assert destroyed_points(UNITS, [UnitLoss(unit_id=1, figures_lost=6, destroyed=True)], "proportional") == 65


def test_a_damaged_unit_is_worth_nothing_where_only_the_destroyed_count():
    assert destroyed_points(UNITS, [UnitLoss(unit_id=1, figures_lost=9)], "destroyed") == 0


def test_a_damaged_unit_is_worth_its_share_rounded_down():
    """65 x 3 / 10 = 19.5 and 40 x 1 / 8 = 5: 19 and 5."""
    losses = [UnitLoss(unit_id=1, figures_lost=3), UnitLoss(unit_id=2, figures_lost=1)]
    assert destroyed_points(UNITS, losses, "proportional") == 24


@given(st.integers(0, 10), st.integers(0, 1000))
def test_a_damaged_unit_is_never_worth_more_than_a_destroyed_one(figures_lost, points):
    unit = FieldedUnit(id=1, points=points, figures=10)
    assert 0 <= destroyed_points([unit], [UnitLoss(unit_id=1, figures_lost=figures_lost)], "proportional") <= points
