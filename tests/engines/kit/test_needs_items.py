"""Whether a piece is what is asked for."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.engines import sizes
from league.engines.kit.items import Piece, fits, good_of
from league.engines.rulesets import CATEGORIES, Wanted

MEASURES = Path(__file__).resolve().parents[2] / "reference" / "measures"
INCH_MM = json.loads((MEASURES / "inch.json").read_text(encoding="utf-8"), parse_float=Decimal)["inch_mm"]


def circle(*sizes_mm):
    return Piece(category="template", sizes_mm=sizes_mm)


@pytest.mark.parametrize("inches", [1, 2, 3, 4])
def test_a_circle_cut_in_inches_is_the_circle_of_the_ruleset(inches):
    """Circles of 1 to 4 inches are common practice, no source; the inch is the published one, to the nearest mm."""
    to_nearest_mm = int((inches * INCH_MM).quantize(Decimal(1)))
    wanted = Wanted(category="template", size_mm=sizes.parse_lengths(f"{inches} in")[0], tolerance_mm=0)
    assert fits(wanted, circle(to_nearest_mm))


def test_a_circle_must_be_of_its_size_give_or_take_the_tolerance():
    wanted = Wanted(category="template", size_mm=76, tolerance_mm=1)
    assert [fits(wanted, circle(size)) for size in (74, 75, 76, 77, 78)] == [False, True, True, True, False]


def test_a_nested_template_is_every_circle_it_offers():
    nested = circle(25, 51, 76, 102)
    wanted = [Wanted(category="template", size_mm=size) for size in (25, 51, 76, 102, 127)]
    assert [fits(each, nested) for each in wanted] == [True, True, True, True, False]


def test_a_stick_must_be_long_enough_and_may_be_longer():
    """A range of 36 inches asks for a 3-foot stick or a tape (common practice, no source)."""
    wanted = Wanted(category="ruler", size_mm=sizes.parse_lengths("36 in")[0])
    sticks = [sizes.parse_lengths(each) for each in ("12 in", "3 ft", "1 m", "3 m")]
    assert [fits(wanted, Piece(category="ruler", sizes_mm=each)) for each in sticks] == [False, True, True, True]


def test_a_stick_of_unknown_length_is_not_relied_on():
    assert not fits(Wanted(category="ruler", size_mm=914), Piece(category="ruler"))


def test_a_mat_may_lie_either_way_and_must_cover_the_table():
    wanted = Wanted(category="mat", size_mm=1829, depth_mm=1219)
    mats = [(1219, 1829), (1829, 1219), (2440, 1220), (1829, 1100), (1829,)]
    assert [fits(wanted, Piece(category="mat", sizes_mm=each)) for each in mats] == [True, True, True, False, False]


@pytest.mark.parametrize("category", ["scenery", "marker"])
def test_what_stands_beside_figures_must_be_of_about_their_height(category):
    """20 mm beside 28 mm looks out of place; 25 or 32 mm does not (common practice, no source)."""
    wanted = Wanted(category=category, scale_mm=28, scale_tolerance_mm=4)
    heights = [20, 25, 28, 32, None]
    assert [fits(wanted, Piece(category=category, scale_mm=each)) for each in heights] == [
        False,
        True,
        True,
        True,
        True,
    ]


def test_a_die_has_no_scale():
    assert fits(Wanted(category="die", sides=6, scale_mm=28), Piece(category="die", sides=6, scale_mm=15))


def test_a_die_has_the_sides_that_are_asked_for():
    assert [fits(Wanted(category="die", sides=6), Piece(category="die", sides=each)) for each in (6, 10, None)] == [
        True,
        False,
        False,
    ]


def test_a_plain_token_serves_for_any_use_and_a_named_one_for_its_own():
    wanted = Wanted(category="token", use="activation")
    uses = ["", "activation", "Activation", "suppression"]
    assert [fits(wanted, Piece(category="token", use=each)) for each in uses] == [True, True, True, False]


def test_scenery_that_nobody_named_is_no_hill():
    assert not fits(Wanted(category="scenery", use="hill"), Piece(category="scenery"))


def test_red_is_red_however_it_is_written():
    wanted = Wanted(category="marker", colour="red")
    colours = ["red", " Red ", "RED", "dark red", ""]
    assert [fits(wanted, Piece(category="marker", colour=each)) for each in colours] == [True, True, True, False, False]


def test_a_token_is_no_marker():
    assert not fits(Wanted(category="marker"), Piece(category="token"))


pieces = st.builds(
    Piece,
    category=st.sampled_from(CATEGORIES),
    use=st.sampled_from(["", "hill", "reeds"]),
    sides=st.none() | st.sampled_from([6, 10]),
    sizes_mm=st.lists(st.integers(1, 99), max_size=3).map(tuple),
    scale_mm=st.none() | st.sampled_from([20, 28]),
    colour=st.sampled_from(["", "red", "Red", "blue"]),
)


@given(pieces)
def test_every_piece_fits_what_asks_for_nothing_but_its_category(piece):
    assert fits(Wanted(category=piece.category), piece)


@given(pieces, pieces, st.sampled_from(["", "hill"]), st.sampled_from(["", "red"]), st.none() | st.integers(1, 99))
def test_pieces_of_one_good_fit_the_same(one, other, use, colour, size_mm):
    wanted = Wanted(category=one.category, use=use, colour=colour, size_mm=size_mm)
    if good_of(one) == good_of(other):
        assert fits(wanted, one) == fits(wanted, other)
