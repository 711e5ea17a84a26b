"""A club's document becomes a ruleset, or says everything that is wrong with it."""

from __future__ import annotations

import copy

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.engines.rulesets import BadRuleset, Outcome, parse_ruleset, ruleset_to_document

SMALLEST = {
    "format": "drumhead ruleset 1",
    "name": "Two Ponds",
    "unit_classes": [{"key": "line", "name": "Line", "figures_least": 1, "figures_most": 9}],
}
TABLE = {
    "key": "all",
    "name": "All",
    "roll_for": "figure",
    "die": 6,
    "outcomes": [{"from": 1, "to": 2, "fate": "lost"}, {"from": 3, "to": 6, "fate": "back"}],
}
SCENARIO = {
    "key": "pond",
    "name": "The Pond",
    "sides": [{"key": "east", "name": "East"}, {"key": "west", "name": "West"}],
}


def document(**changes):
    return copy.deepcopy(SMALLEST) | changes


def faults(bad):
    """Place and code of every violation, in the order they are told."""
    with pytest.raises(BadRuleset) as refused:
        parse_ruleset(bad)
    return [(each.place, each.code) for each in refused.value.violations]


def table(**changes):
    return document(casualty_tables=[TABLE | changes])


def test_a_name_and_one_unit_class_make_a_ruleset():
    ruleset = parse_ruleset(SMALLEST)
    assert (ruleset.name, ruleset.unit_class("line").figures_most) == ("Two Ponds", 9)


def test_what_is_left_out_takes_the_usual_value():
    ruleset = parse_ruleset(SMALLEST)
    assert (ruleset.scoring.win_x2, ruleset.scoring.draw_x2, ruleset.destroyed_points) == (2, 1, "destroyed")


def test_a_document_of_another_format_is_refused():
    assert faults(document(format="drumhead ruleset 2")) == [("format", "not_a_choice")]


@pytest.mark.parametrize("value", [None, [], "text", 7])
def test_what_is_no_object_is_no_ruleset(value):
    assert faults(value) == [("", "not_an_object")]


def test_all_faults_are_told_at_once_each_with_its_place():
    bad = document(
        name="",
        unit_classes=[
            {"key": "line", "name": "Line", "figures_least": 9, "figures_most": 1},
            {"key": "line", "name": "Line again", "figures_least": 1, "figures_most": 1},
            {"key": "Horse!", "name": "Horse", "figures_least": 0, "figures_most": 1},
        ],
        limits=[{"kind": "class_share", "class": "line", "most_percent": 101}],
        experience={"per_game": -1},
        scenarios=[SCENARIO | {"sides": SCENARIO["sides"][:1]}],
    )
    assert sorted(faults(bad)) == [
        ("experience.per_game", "out_of_range"),
        ("limits[0].most_percent", "out_of_range"),
        ("name", "blank"),
        ("scenarios[0].sides", "bad_list_length"),
        ("unit_classes[0].figures_least", "least_above_most"),
        ("unit_classes[1].key", "twice"),
        ("unit_classes[2].figures_least", "out_of_range"),
        ("unit_classes[2].key", "bad_key"),
    ]


def test_the_words_of_a_fault_are_filled_in():
    with pytest.raises(BadRuleset, match=r"limits\[0\]\.class: “horse” is described nowhere"):
        parse_ruleset(document(limits=[{"kind": "class_count", "class": "horse"}]))


def test_a_misspelt_field_is_not_passed_over():
    assert faults(document(unit_clases=[])) == [("unit_clases", "unknown_field")]


def test_true_is_not_the_number_one():
    assert faults(document(limits=[{"kind": "points_cap", "most": True}])) == [("limits[0].most", "not_a_number")]


def test_a_whole_number_written_with_a_point_is_whole():
    """JSON Schema 2020-12, validation, 6.1.1: a number without a fractional part is an integer."""
    ruleset = parse_ruleset(document(limits=[{"kind": "points_cap", "most": 300.0}]))
    assert ruleset.limits[0].most == 300


@pytest.mark.parametrize("name", ["a\x00b", "two\nlines", "half \ud800 pair"])
def test_a_name_that_cannot_be_kept_is_refused(name):
    assert faults(document(name=name)) == [("name", "unfit_characters")]


def test_a_table_must_answer_every_roll():
    outcomes = [{"from": 1, "to": 2, "fate": "lost"}, {"from": 5, "to": 6, "fate": "back"}]
    with pytest.raises(BadRuleset, match=r"No outcome answers a roll of 3, 4\."):
        parse_ruleset(table(outcomes=outcomes))


def test_a_table_must_answer_a_roll_only_once():
    outcomes = [{"from": 1, "to": 4, "fate": "lost"}, {"from": 3, "to": 6, "fate": "back"}]
    with pytest.raises(BadRuleset, match=r"More than one outcome answers a roll of 3, 4\."):
        parse_ruleset(table(outcomes=outcomes))


def test_an_outcome_beyond_the_die_is_refused():
    assert faults(table(die=3)) == [
        ("casualty_tables[0].outcomes[1]", "outside_die"),
    ]


def test_a_range_that_runs_backwards_is_refused():
    outcomes = [{"from": 6, "to": 1, "fate": "lost"}, {"from": 1, "to": 6, "fate": "back"}]
    assert faults(table(outcomes=outcomes)) == [("casualty_tables[0].outcomes[0]", "range_backwards")]


def test_an_outcome_that_keeps_figures_out_says_for_how_long():
    outcomes = [{"from": 1, "to": 6, "fate": "out"}]
    assert faults(table(outcomes=outcomes)) == [("casualty_tables[0].outcomes[0].games", "missing")]


def test_only_an_outcome_that_keeps_figures_out_counts_games():
    outcomes = [{"from": 1, "to": 6, "fate": "back", "games": 1}]
    assert faults(table(outcomes=outcomes)) == [("casualty_tables[0].outcomes[0].games", "unknown_field")]


def test_a_table_nobody_owns_is_refused():
    assert faults(table(die=7)) == [("casualty_tables[0].die", "not_a_choice")]


def test_a_table_speaks_only_of_classes_and_qualities_that_exist():
    assert faults(table(classes=["line", "horse"], qualities=["good"])) == [
        ("casualty_tables[0].classes[1]", "unknown_key"),
        ("casualty_tables[0].qualities[0]", "unknown_key"),
    ]


def test_a_table_behind_one_that_answers_for_all_is_never_used():
    tables = [TABLE, TABLE | {"key": "line", "classes": ["line"]}]
    assert faults(document(casualty_tables=tables)) == [("casualty_tables[1]", "never_reached")]


def test_a_table_for_all_may_stand_behind_one_for_some():
    tables = [TABLE | {"key": "line", "classes": ["line"]}, TABLE]
    assert len(parse_ruleset(document(casualty_tables=tables)).casualty_tables) == 2


def test_two_limits_of_one_kind_contradict_each_other():
    limits = [{"kind": "points_cap", "most": 300}, {"kind": "points_cap", "most": 400}]
    assert faults(document(limits=limits)) == [("limits[1]", "limit_twice")]


def test_limits_that_no_roster_can_keep_are_refused():
    limits = [{"kind": "unit_count", "most": 3}, {"kind": "class_count", "class": "line", "least": 4}]
    assert faults(document(limits=limits)) == [("limits[0].most", "no_legal_roster")]


def test_a_fault_that_only_follows_from_another_is_not_told_twice():
    """The class is misspelt where it is described; that a limit names it right is no second fault."""
    unit_classes = [{"key": "Line", "name": "Line", "figures_least": 1, "figures_most": 9}]
    limits = [{"kind": "class_count", "class": "line"}]
    assert faults(document(unit_classes=unit_classes, limits=limits)) == [("unit_classes[0].key", "bad_key")]


def test_steps_of_experience_climb():
    steps = [{"at": 5, "name": "Tried"}, {"at": 5, "name": "Proven"}]
    assert faults(document(experience={"steps": steps})) == [("experience.steps[1].at", "steps_out_of_order")]


def test_a_scenario_in_which_nobody_can_win_is_refused():
    scenario = SCENARIO | {"score_most": 5, "draw_margin": 5}
    assert faults(document(scenarios=[scenario])) == [("scenarios[0].draw_margin", "always_a_draw")]


def test_a_shared_objective_says_how_many_there_are():
    objective = {"key": "pond", "name": "Holds the pond", "points": 1, "shared": True}
    assert faults(document(scenarios=[SCENARIO | {"objectives": [objective]}])) == [
        ("scenarios[0].objectives[0].shared", "shared_without_most")
    ]


def test_a_bonus_for_a_count_says_which_count():
    bonuses = [{"kind": "count_at_least", "points_x2": 1}, {"kind": "margin", "points_x2": 1, "count": "flags"}]
    assert faults(document(scoring={"bonuses": bonuses})) == [
        ("scoring.bonuses[0].count", "bonus_without_count"),
        ("scoring.bonuses[1].count", "bonus_with_count"),
    ]


def test_a_tie_break_is_a_known_one_and_stands_once():
    tie_breaks = ["buchholz", "coin", "count_total:flags", "count_total:", "buchholz"]
    assert faults(document(scoring={"tie_breaks": tie_breaks})) == [
        ("scoring.tie_breaks[1]", "not_a_choice"),
        ("scoring.tie_breaks[3]", "not_a_choice"),
        ("scoring.tie_breaks[4]", "twice"),
    ]


def test_the_first_table_that_speaks_of_a_unit_answers():
    tables = [TABLE | {"key": "good", "qualities": ["good"]}, TABLE | {"key": "rest"}]
    ruleset = parse_ruleset(document(qualities=[{"key": "good", "name": "Good"}], casualty_tables=tables))
    assert [ruleset.table_for("line", quality).key for quality in ("good", "")] == ["good", "rest"]


def test_a_unit_no_table_speaks_of_has_none():
    assert parse_ruleset(SMALLEST).table_for("line") is None


def test_a_step_is_reached_with_its_number():
    steps = [{"at": 2, "name": "Tried"}, {"at": 4, "name": "Proven"}]
    experience = parse_ruleset(document(experience={"steps": steps})).experience
    assert [experience.step_at(number) for number in (1, 2, 3, 4, 99)] == ["", "Tried", "Tried", "Proven", "Proven"]


json_values = st.recursive(
    st.none() | st.booleans() | st.integers(-9, 9) | st.floats(allow_nan=False) | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)


@given(json_values)
def test_whatever_the_document_is_the_answer_is_a_ruleset_or_a_refusal(value):
    with pytest.raises(BadRuleset):
        parse_ruleset(value)


@given(st.sampled_from(["name", "unit_classes", "limits", "scenarios", "scoring", "casualty_tables"]), json_values)
def test_whatever_stands_in_one_field_the_answer_is_a_ruleset_or_a_refusal(field, value):
    try:
        ruleset = parse_ruleset(document(**{field: value}))
    except BadRuleset as refused:
        misplaced = [each for each in refused.violations if not each.place.startswith(field) or not each.text]
    else:
        misplaced = []
        assert parse_ruleset(ruleset_to_document(ruleset)) == ruleset
    assert misplaced == []


@given(st.lists(st.integers(1, 5), min_size=1, max_size=6))
def test_runs_that_cover_a_die_one_after_the_other_make_a_table(lengths):
    """Cut 1..6 into runs at the running sums: always a table, and each roll falls into the run it was cut into."""
    cuts = sorted({min(sum(lengths[: index + 1]), 6) for index in range(len(lengths))} | {6})
    firsts = [1] + [cut + 1 for cut in cuts[:-1]]
    outcomes = [{"from": first, "to": last, "fate": "back"} for first, last in zip(firsts, cuts, strict=True)]
    parsed = parse_ruleset(table(outcomes=outcomes)).casualty_tables[0]
    for roll in range(1, 7):
        first, last = next(run for run in zip(firsts, cuts, strict=True) if run[0] <= roll <= run[1])
        assert parsed.outcome_of(roll) == Outcome(first=first, last=last, fate="back")
