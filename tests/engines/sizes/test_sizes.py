"""Sizes of tables as people type them. The inch is 25.4 mm exactly: international yard and pound agreement of 1959
(one yard is 0.9144 m; a yard is three feet of twelve inches)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.engines.sizes import (
    NotASize,
    Size,
    as_text,
    in_feet,
    in_metric,
    lengths_as_text,
    parse,
    parse_lengths,
)

YARD_MM = Fraction(9144, 10)  # the agreement's own figure

inches = st.integers(min_value=1, max_value=360)
millimetres = st.integers(min_value=1, max_value=10_000)


@pytest.mark.parametrize(
    ("typed", "width_mm", "depth_mm"),
    [
        ("6 x 4 ft", 1829, 1219),
        ("6x4ft", 1829, 1219),
        ("6' x 4'", 1829, 1219),
        ("6 ft by 4 ft", 1829, 1219),
        ("6 feet x 48 inches", 1829, 1219),
        ("72 x 48 in", 1829, 1219),
        ('72" x 48"', 1829, 1219),
        ("6 ft 6 in x 4 ft", 1981, 1219),
        ("6'6\" x 4'", 1981, 1219),
        ("180 x 120 cm", 1800, 1200),
        ("180 \N{MULTIPLICATION SIGN} 120 CM", 1800, 1200),
        ("1.8 x 1.2 m", 1800, 1200),
        ("1,8 x 1,2 m", 1800, 1200),
        ("1800 x 1200 mm", 1800, 1200),
        ("  22.5 x 30 in. ", 572, 762),
    ],
)
def test_what_people_type_is_read_in_whole_millimetres(typed, width_mm, depth_mm):
    assert parse(typed) == Size(width_mm=width_mm, depth_mm=depth_mm)


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("", "empty"),
        ("   ", "empty"),
        ("6 x 4", "no_unit"),
        ("6 ft x 4", "no_unit"),
        ("6 ft", "two_sides"),
        ("6 x 4 x 2 ft", "two_sides"),
        ("x 4 ft", "two_sides"),
        ("6 x 4 leagues", "unknown_unit"),
        ("six x four ft", "two_sides"),
        ("four by four ft", "unreadable"),
        ("-6 x 4 ft", "unreadable"),
        ("6 in 6 ft x 4 ft", "unreadable"),
        ("0 x 4 ft", "zero"),
        ("9" * 80 + " x 4 ft", "unreadable"),
    ],
)
def test_what_is_no_size_says_why(typed, code):
    with pytest.raises(NotASize) as refusal:
        parse(typed)
    assert refusal.value.code == code


def test_three_feet_are_the_yard_of_the_agreement_to_the_millimetre():
    assert parse("3 x 3 ft").width_mm == round(YARD_MM)


@given(width=millimetres, depth=millimetres)
def test_millimetres_are_kept_as_typed(width, depth):
    assert parse(f"{width} x {depth} mm") == Size(width_mm=width, depth_mm=depth)


@given(width=inches, depth=inches)
def test_inches_are_never_more_than_half_a_millimetre_from_a_thirty_sixth_of_the_yard(width, depth):
    size = parse(f"{width} x {depth} in")
    assert abs(size.width_mm - width * YARD_MM / 36) <= Fraction(1, 2)


@given(width=inches, depth=inches)
def test_whole_inches_come_back_as_the_same_inches(width, depth):
    size = parse(f"{width} x {depth} in")
    assert parse(f"{in_feet(size.width_mm)} x {in_feet(size.depth_mm)}") == size


@given(width=millimetres, depth=millimetres)
def test_the_shown_centimetres_are_the_size_itself(width, depth):
    assert parse(f"{in_metric(width)} x {in_metric(depth)}") == Size(width_mm=width, depth_mm=depth)


def outcome(typed):
    try:
        return parse(typed)
    except NotASize as reason:
        return reason.code


@given(typed=st.text(max_size=70) | st.from_regex(r"[0-9.,' xftincm\"]{1,30}"))
def test_any_text_is_a_size_or_says_why_it_is_none(typed):
    read = outcome(typed)
    known = {"empty", "unreadable", "no_unit", "unknown_unit", "two_sides", "zero"}
    assert read in known if isinstance(read, str) else min(read.width_mm, read.depth_mm) > 0


def test_a_size_is_shown_in_both_units():
    times = "\N{MULTIPLICATION SIGN}"
    assert as_text(parse("6 x 4 ft")) == f"6 ft {times} 4 ft (182.9 cm {times} 121.9 cm)"


def test_a_board_cut_in_whole_centimetres_is_called_by_them_first():
    times = "\N{MULTIPLICATION SIGN}"
    assert as_text(parse("180 x 120 cm")).startswith(f"180 cm {times} 120 cm (5 ft 10.9 in")


def test_a_small_board_is_called_by_its_inches():
    assert in_feet(parse("30 x 22 in").width_mm) == "30 in"


@pytest.mark.parametrize(
    ("typed", "lengths_mm"),
    [
        ("36 in", (914,)),
        ("3 ft", (914,)),
        ("1, 2, 3 and 4 in", (25, 51, 76, 102)),
        ("1 in; 5 cm", (25, 50)),
        ("6 x 4 ft", (1829, 1219)),
        ("2,5 cm", (25,)),
    ],
)
def test_lengths_of_kit_are_read_one_or_several(typed, lengths_mm):
    assert parse_lengths(typed) == lengths_mm


@pytest.mark.parametrize(
    ("typed", "code"),
    [("", "empty"), ("36", "no_unit"), ("0 in", "zero"), ("long", "unreadable"), (", ", "unreadable")],
)
def test_lengths_that_cannot_be_read_say_why(typed, code):
    with pytest.raises(NotASize) as refused:
        parse_lengths(typed)
    assert refused.value.code == code


@given(st.lists(inches, min_size=1, max_size=4))
def test_inches_written_out_are_read_back(whole_inches):
    lengths = tuple(int(each * Fraction(254, 10) + Fraction(1, 2)) for each in whole_inches)
    assert parse_lengths(lengths_as_text(lengths)) == lengths


@given(st.lists(st.integers(1, 99_999), min_size=1, max_size=4))
def test_any_millimetres_written_out_are_read_back(lengths_mm):
    """77 mm is not 3 in, which is 76: a form that shows a length must not change it."""
    assert parse_lengths(lengths_as_text(lengths_mm)) == tuple(lengths_mm)
