"""Outcomes, sides and objectives as lines of text."""

from __future__ import annotations

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from league.engines.rulesets import Objective, Outcome, ScenarioSide
from league.rulesets.forms.keys import key_from
from league.rulesets.forms.lines import (
    ObjectivesField,
    OutcomesField,
    SidesField,
    objectives_as_lines,
    outcomes_as_lines,
    sides_as_lines,
)


def test_a_range_a_dash_and_a_fate_are_an_outcome():
    assert OutcomesField().clean("1-2 lost\n3–4 out 1\n5-6 back") == [
        {"from": 1, "to": 2, "fate": "lost"},
        {"from": 3, "to": 4, "fate": "out", "games": 1},
        {"from": 5, "to": 6, "fate": "back"},
    ]


@pytest.mark.parametrize("line", ["3 out for 2 games", "3: out 2", "3 OUT 2"])
def test_outcomes_may_be_written_more_loosely(line):
    assert OutcomesField().clean(line) == [{"from": 3, "to": 3, "fate": "out", "games": 2}]


@pytest.mark.parametrize("line", ["lost", "1-2", "1-2 dead", "3 out", "3 lost 2", "one lost"])
def test_a_line_that_is_no_outcome_is_told_with_its_number(line):
    with pytest.raises(ValidationError) as failure:
        OutcomesField().clean(f"6 back\n{line}")
    assert failure.value.messages[0].startswith("Line 2, ")


def test_every_line_that_cannot_be_read_is_told():
    with pytest.raises(ValidationError) as failure:
        OutcomesField().clean("nothing\n1 lost\nnonsense")
    assert [words[:6] for words in failure.value.messages] == ["Line 1", "Line 3"]


def test_a_new_side_gets_a_key_from_its_name():
    assert SidesField().clean("Attacker\nThe Defence of Arrel [defender]") == [
        {"key": "attacker", "name": "Attacker"},
        {"key": "defender", "name": "The Defence of Arrel"},
    ]


def test_two_new_sides_of_one_name_get_two_keys():
    assert [each["key"] for each in SidesField().clean("Bank\nBank")] == ["bank", "bank_2"]


def test_an_objective_may_leave_out_its_key_its_most_and_whether_it_is_shared():
    assert ObjectivesField().clean("Units broken: 1\nHolds the bridge [bridge]: 3 points, at most 1, shared") == [
        {"key": "units_broken", "name": "Units broken", "points": 1, "most": None, "shared": False},
        {"key": "bridge", "name": "Holds the bridge", "points": 3, "most": 1, "shared": True},
    ]


@pytest.mark.parametrize("line", ["Holds the bridge", "Holds the bridge: many", "Bridge: 3, often", ": 3"])
def test_a_line_that_is_no_objective_is_refused(line):
    with pytest.raises(ValidationError):
        ObjectivesField().clean(line)


names = st.text("abcdé Z'’", min_size=1, max_size=20).map(str.strip).filter(bool)
keys = st.from_regex(r"[a-z][a-z0-9_]{0,8}", fullmatch=True)


@given(
    st.lists(
        st.builds(
            Objective,
            key=keys,
            name=names,
            points=st.integers(1, 9),
            most=st.none() | st.integers(1, 9),
            shared=st.booleans(),
        )
    )
)
def test_objectives_read_back_as_they_were_written(objectives):
    read = ObjectivesField(required=False).clean(objectives_as_lines(objectives))
    assert [Objective(**each) for each in read] == objectives


@given(st.lists(st.builds(ScenarioSide, key=keys, name=names)))
def test_sides_read_back_as_they_were_written(sides):
    assert [ScenarioSide(**each) for each in SidesField(required=False).clean(sides_as_lines(sides))] == sides


@given(st.lists(st.tuples(st.integers(1, 20), st.integers(1, 20), st.integers(0, 9))))
def test_outcomes_read_back_as_they_were_written(numbers):
    outcomes = [
        Outcome(first=first, last=last, fate="out" if games else "lost", games=games) for first, last, games in numbers
    ]
    read = OutcomesField(required=False).clean(outcomes_as_lines(outcomes))
    assert [(each["from"], each["to"], each.get("games", 0)) for each in read] == numbers


@given(st.text(max_size=60), st.sets(keys))
def test_a_key_is_always_well_formed_and_new(name, taken):
    key = key_from(name, taken, kind="class")
    assert key not in taken
    assert key[0].isalpha() and len(key) <= 40 and set(key) <= set("abcdefghijklmnopqrstuvwxyz0123456789_")
