"""How many markers are enough: the curve and its figures, from the club's own reports."""

from __future__ import annotations

from fractions import Fraction

import pytest
from django.urls import reverse

from league.engines.kit.stock import per_table
from league.stores.queries.enough_page import enough_page, usual_prior

pytestmark = pytest.mark.django_db


def test_without_reports_the_usual_table_is_all_there_is(club):
    page = enough_page(club, tables=6, percent=95)
    assert page.reports == 0
    assert page.enough == per_table([], prior=usual_prior()).enough_for(6, Fraction(95, 100))
    assert page.mean == 8


def test_one_fewer_would_not_be_enough(club):
    page = enough_page(club, tables=6, percent=95)
    chances = {step.stock: step.chance for step in page.steps}
    assert chances[page.enough] >= 0.95 > chances[page.enough - 1]


def test_the_curve_has_its_figures_beside_it_and_no_style_of_its_own(club, member, browse):
    page = browse(member).get(reverse("enough", kwargs={"club": club.slug}), {"tables": 4, "percent": 90})
    text = page.content.decode()
    enough = enough_page(club, tables=4, percent=90).enough
    assert f"{enough} markers for 4 tables at 90 %" in text
    assert "<polyline" in text
    assert f'<tr class="mine"><td class="num">{enough}</td>' in text
    assert "style=" not in text


@pytest.mark.parametrize("tables", ["0", "-1", "201", "many", ""])
def test_an_absurd_number_of_tables_is_said_so(tables, club, member, browse):
    page = browse(member).get(reverse("enough", kwargs={"club": club.slug}), {"tables": tables})
    assert page.status_code == 200
    assert "There is a problem" in page.content.decode()
