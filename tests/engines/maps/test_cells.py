"""The land around each place, against scipy's Voronoi diagram and by looking who is nearest."""

from __future__ import annotations

from math import dist, inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import Voronoi

from league.engines.maps.cells import cells_of, spacing_of

SHEET = (0.0, 0.0, 1000.0, 1000.0)
PLACES = st.lists(st.tuples(st.integers(0, 1000), st.integers(0, 1000)), min_size=1, max_size=25, unique=True).map(
    tuple
)


def area(cell):
    """By the shoelace formula."""
    return abs(sum(x * v - u * y for (x, y), (u, v) in zip(cell, [*cell[1:], cell[0]], strict=True))) / 2


def is_inside(point, cell):
    """Of a convex polygon: on the same side of every edge."""
    sides = [
        (u - x) * (point[1] - y) - (v - y) * (point[0] - x)
        for (x, y), (u, v) in zip(cell, [*cell[1:], cell[0]], strict=True)
    ]
    return all(side >= -1e-6 for side in sides) or all(side <= 1e-6 for side in sides)


def test_one_place_has_the_whole_sheet():
    (cell,) = cells_of(((400, 300),), SHEET)
    assert area(cell) == 1_000_000


def test_two_places_part_the_sheet_half_way_between_them():
    left, right = cells_of(((200, 500), (600, 500)), SHEET)
    assert max(x for x, _y in left) == min(x for x, _y in right) == 400


@given(places=PLACES)
@settings(max_examples=60, deadline=None)
def test_the_cells_cover_the_sheet_once(places):
    assert sum(map(area, cells_of(places, SHEET))) == pytest.approx(1_000_000, rel=1e-6)


@given(places=PLACES, point=st.tuples(st.integers(0, 1000), st.integers(0, 1000)))
@settings(max_examples=60, deadline=None)
def test_a_point_lies_in_the_cell_of_the_place_nearest_to_it(places, point):
    cells = cells_of(places, SHEET)
    nearest = min(range(len(places)), key=lambda at: dist(places[at], point))
    assert is_inside(point, cells[nearest])


def test_inner_cells_have_the_corners_that_scipy_finds():
    rng = np.random.default_rng(7)
    places = tuple((float(x), float(y)) for x, y in rng.uniform(0, 1000, size=(80, 2)))
    reference = Voronoi(np.array(places))
    cells = cells_of(places, SHEET)
    compared = 0
    for number, cell in enumerate(cells):
        corners = reference.regions[reference.point_region[number]]
        if -1 in corners or not all(0 <= value <= 1000 for at in corners for value in reference.vertices[at]):
            continue
        compared += 1
        wanted = sorted((round(float(x), 4), round(float(y), 4)) for x, y in reference.vertices[corners])
        assert sorted((round(x, 4), round(y, 4)) for x, y in cell) == wanted
    assert compared > 30


def test_the_spacing_of_a_single_place_is_without_bound():
    assert spacing_of([(1, 1)]) == inf


def test_the_spacing_is_that_of_close_neighbours():
    assert spacing_of([(0, 0), (100, 0), (250, 0)]) == 100
