"""A legal roster has no violations; an illegal one has all of them told at once."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from league.engines.legality import ListedUnit, violations
from league.engines.rulesets import (
    ClassCount,
    ClassShare,
    PointsCap,
    Quality,
    Ruleset,
    UnitClass,
    UnitCount,
)

LINE = UnitClass(key="line", name="Line foot", figures_least=4, figures_most=12)
HORSE = UnitClass(key="horse", name="Horse", figures_least=3, figures_most=6)


def ruleset(*limits):
    return Ruleset(
        name="Two Ponds",
        qualities=(Quality(key="veteran", name="Veteran"),),
        unit_classes=(LINE, HORSE),
        limits=limits,
    )


def unit(number=1, **facts):
    return ListedUnit(
        **{"id": number, "name": f"Company {number}", "unit_class": "line", "figures": 8, "points": 50} | facts
    )


def texts(units, rules, **options):
    return [each.text for each in violations(units, rules, **options)]


def test_an_ordinary_roster_is_legal():
    rules = ruleset(PointsCap(most=100), UnitCount(least=1, most=2), ClassCount(unit_class="line", least=2, most=2))
    assert violations([unit(1), unit(2)], rules) == ()


def test_two_units_may_bear_one_name():
    assert violations([unit(1, name="Twins"), unit(2, name="Twins")], ruleset()) == ()


def test_a_unit_need_not_have_a_quality():
    assert violations([unit(quality=""), unit(quality="veteran")], ruleset()) == ()


def test_everything_wrong_with_a_unit_is_told_at_once():
    bad = unit(figures=13, quality="grand", points=-5)
    assert texts([bad], ruleset()) == [
        "Company 1: Line foot has 4 to 12 figures, not 13.",
        "Company 1: the ruleset knows no quality “grand”.",
        "Company 1: points cannot be below nought, as -5 is.",
    ]


def test_a_class_nobody_described_is_told():
    assert texts([unit(unit_class="boats", figures=0)], ruleset()) == [
        "Company 1: the ruleset knows no class “boats”.",
        "Company 1: a unit has at least one figure.",
    ]


def test_a_violation_of_a_unit_names_it():
    (found,) = violations([unit(1), unit(2, figures=3)], ruleset())
    assert (found.unit_id, found.code) == (2, "figures_out_of_range")


def test_the_least_and_the_most_figures_are_legal():
    assert violations([unit(1, figures=4), unit(2, figures=12)], ruleset()) == ()


def test_the_cap_of_the_ruleset_and_the_limit_of_the_roster_both_hold():
    assert texts([unit(1), unit(2)], ruleset(PointsCap(most=99)), points_limit=80) == [
        "The ruleset allows 99 points; this roster has 100.",
        "The roster is limited to 80 points; it has 100.",
    ]


def test_points_up_to_the_cap_are_legal():
    assert violations([unit(1), unit(2)], ruleset(PointsCap(most=100)), points_limit=100) == ()


def test_too_few_and_too_many_are_told_by_class():
    rules = ruleset(ClassCount(unit_class="line", least=0, most=1), ClassCount(unit_class="horse", least=1, most=None))
    assert texts([unit(1), unit(2)], rules) == [
        "Too many: at most 1 of Line foot are allowed, there are 2.",
        "Too few: at least 1 of Horse are needed, there are 0.",
    ]


def test_an_empty_roster_is_too_few_where_some_are_needed():
    assert texts([], ruleset(UnitCount(least=3))) == ["Too few: at least 3 of units are needed, there are 0."]


def test_a_share_is_exact_at_its_edge():
    """35 of 100 is 35 %; 36 of 100 is more. With floats 0.35 * 100 is 35 only by rounding."""
    rules = ruleset(ClassShare(unit_class="horse", most_percent=35))
    horse = unit(2, unit_class="horse", figures=4)
    assert violations([unit(1, points=65), unit(2, unit_class="horse", figures=4, points=35)], rules) == ()
    assert texts(
        [unit(1, points=64), ListedUnit(id=2, name=horse.name, unit_class="horse", figures=4, points=36)], rules
    ) == ["Horse may be at most 35% of the points; here it is 36 of 100."]


def test_a_roster_without_points_has_no_shares():
    assert violations([unit(points=0)], ruleset(ClassShare(unit_class="line", most_percent=0))) == ()


@given(
    points=st.lists(st.tuples(st.sampled_from(["line", "horse"]), st.integers(0, 500)), max_size=8),
    percent=st.integers(0, 100),
)
def test_a_share_agrees_with_exact_fractions(points, percent):
    units = [unit(n, unit_class=each, figures=5, points=cost) for n, (each, cost) in enumerate(points)]
    total = sum(cost for _, cost in points)
    horse = sum(cost for each, cost in points if each == "horse")
    too_much = total > 0 and Fraction(horse, total) > Fraction(percent, 100)
    assert bool(violations(units, ruleset(ClassShare(unit_class="horse", most_percent=percent)))) == too_much


@given(st.lists(st.integers(0, 200), max_size=6), st.integers(0, 600))
def test_a_unit_more_never_heals_a_broken_cap(points, cap):
    rules = ruleset(PointsCap(most=cap))
    units = [unit(number, points=cost) for number, cost in enumerate(points)]
    if violations(units, rules):
        assert violations([*units, unit(99, points=0)], rules)
