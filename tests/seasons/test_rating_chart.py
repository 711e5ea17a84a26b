"""The drawing of a rating curve: within its frame, in true proportion, readable without seeing it."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import pytest
from django.template import Context, Template

from league.templatetags.charts import HEIGHT, WIDTH, drawing_of, levels_between

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Step:
    month: date
    rating: float
    deviation: float = 50.0
    games: int = 1


def curve(*ratings, start=1):
    return [
        Step(date(2025 + (start + n - 1) // 12, (start + n - 1) % 12 + 1, 1), rating)
        for n, rating in enumerate(ratings)
    ]


def drawn(steps, name="Brannoc"):
    page = Template("{% load charts %}{% rating_chart steps name %}").render(Context({"steps": steps, "name": name}))
    return page, ET.fromstring(page[page.index("<svg") : page.index("</svg>") + 6])  # noqa: S314 - our own template


def points(polyline):
    return [tuple(map(float, pair.split(","))) for pair in polyline.get("points").split()]


def test_every_point_lies_within_the_frame():
    _page, svg = drawn(curve(1500, 1720, 1180, 1430))
    marks = [*points(svg.find(f".//{SVG}polyline")), *points(svg.find(f".//{SVG}polygon"))]
    assert all(0 <= x <= WIDTH and 0 <= y <= HEIGHT for x, y in marks)


def test_a_higher_rating_stands_higher_in_true_proportion():
    _page, svg = drawn(curve(1500, 1600, 1800))
    low, middle, high = (y for _x, y in points(svg.find(f".//{SVG}polyline")))
    assert low > middle > high
    assert (middle - high) / (low - middle) == pytest.approx(2, rel=0.01)


def test_a_month_without_games_has_no_dot():
    steps = [Step(date(2026, 1, 1), 1500), Step(date(2026, 2, 1), 1500, 60, 0), Step(date(2026, 3, 1), 1520)]
    _page, svg = drawn(steps)
    assert len(svg.findall(f".//{SVG}circle")) == 2


def test_a_single_month_is_a_dot_with_its_doubt():
    _page, svg = drawn(curve(1662))
    assert len(svg.findall(f".//{SVG}circle")) == 1
    assert len([line for line in svg.findall(f".//{SVG}line") if line.get("class") == "chart-line"]) == 1


def test_the_drawing_is_named_and_described_for_those_who_do_not_see_it():
    page, svg = drawn(curve(1500, 1620, 1580))
    assert svg.get("role") == "img"
    named = svg.get("aria-labelledby").split()
    assert [svg.find(f".//*[@id='{name}']").text for name in named] == [
        "Rating of Brannoc",
        "From 1500 in January 2025 to 1580, give or take 50, in March 2025; highest in February 2025 with 1620.",
    ]
    assert page.count("<tr>") == 4


def test_nothing_in_it_needs_an_inline_style():
    page, _svg = drawn(curve(1500, 1620))
    assert "style=" not in page


def test_no_rating_is_no_drawing():
    page = Template("{% load charts %}{% rating_chart steps 'x' %}").render(Context({"steps": ()}))
    assert page.strip() == ""


def test_many_years_keep_their_months_apart():
    marks = drawing_of(curve(*range(1500, 1560), start=1)).months
    places = [float(mark.at) for mark in marks]
    assert len(marks) <= 5
    assert all(right - left > 80 for left, right in pairwise(places))


@pytest.mark.parametrize(("low", "high"), [(1490, 1510), (1150, 1850), (1500, 1500), (-300, 3300)])
def test_the_lines_are_round_enclose_everything_and_are_few(low, high):
    levels = levels_between(low, high)
    assert levels[0] <= low
    assert levels[-1] >= high
    assert 2 <= len(levels) <= 6
    assert all(level % 10 == 0 for level in levels)
