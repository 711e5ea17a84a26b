"""The base of every list: labels for phones, sorting and paging by links, CSV that no spreadsheet runs."""

from __future__ import annotations

import csv
import io
import re

import django_tables2 as tables
import pytest
from django.test import RequestFactory

from league.web import Figures, HalfPoints, Table, TablePage, csv_of, half_points

ROWS = [{"name": f"Unit {number:03}", "figures": number, "points": 2 * number + 1} for number in range(1, 121)]


class Units(Table):
    name = tables.Column(verbose_name="Unit")
    figures = Figures()
    points = HalfPoints(orderable=False)


class UnitsPage(TablePage):
    table_class = Units
    title = "Units"
    rows = ROWS

    def get_table_data(self):
        return self.rows


class NoUnits(UnitsPage):
    rows = []


@pytest.fixture
def read(rf: RequestFactory):
    def reading(query="", page=UnitsPage):
        request = rf.get(f"/units/{query}")
        response = page.as_view()(request)
        return (response.render() if hasattr(response, "render") else response).content.decode()

    return reading


def first_cells(page):
    return re.findall(r'<td role="cell"[^>]*data-label="Unit"[^>]*>([^<]+)</td>', page)


def test_each_cell_carries_the_label_of_its_column(read):
    labels = re.findall(r'data-label="([^"]*)"', read("?per_page=1"))
    assert labels[:3] == ["Unit", "Figures", "Points"]


def test_figures_are_set_as_figures(read):
    assert '<th role="columnheader" scope="col" class="num' in read()


def test_a_page_holds_fifty_rows(read):
    assert len(first_cells(read())) == 50


def test_the_last_page_holds_the_rest(read):
    assert first_cells(read("?page=3"))[-1] == "Unit 120"


def test_a_page_that_is_not_there_shows_the_last(read):
    assert first_cells(read("?page=99"))[-1] == "Unit 120"


def test_the_page_being_read_is_marked(read):
    assert re.search(r'aria-current="page"[^>]*><span[^>]*>Page </span>2<', read("?page=2"))


def test_sorting_is_a_link_and_says_so(read):
    page = read("?sort=-figures")
    assert first_cells(page)[0] == "Unit 120"
    assert re.search(r'aria-sort="descending"[^>]*><a href="\?sort=figures">Figures</a>', page)


def test_sorting_anew_begins_at_the_first_page(read):
    assert 'href="?sort=name"' in read("?page=2")


def test_a_column_that_cannot_be_sorted_has_no_link(read):
    assert re.search(r"<th[^>]*>Points</th>", read())


def test_the_roles_of_a_table_survive_its_layout_on_a_phone(read):
    page = read()
    assert all(f'role="{role}"' in page for role in ("table", "rowgroup", "row", "columnheader", "cell"))


def test_an_empty_list_says_so_instead_of_drawing_a_table(read):
    page = read(page=NoUnits)
    assert "Nothing here yet." in page and "<table" not in page


def test_a_table_with_a_meta_of_its_own_is_still_a_ledger():
    class Compact(Units):
        class Meta:
            attrs = {"class": "keep"}

    assert Compact([]).attrs["class"] == "ledger keep"


def test_what_only_a_hand_can_press_is_left_off_paper():
    class Acts(Units):
        acts = tables.Column(verbose_name="", exclude_from_export=True)

    attrs = Acts([]).columns["acts"].attrs
    assert "no-print" in attrs["th"]["class"] and "no-print" in attrs["td"]["class"]


def test_a_cell_without_a_value_is_empty():
    assert Units([{"name": None, "figures": 1, "points": 2}]).rows[0].get_cell("name") == ""


def test_the_csv_file_holds_all_rows_of_all_pages(read):
    rows = list(csv.reader(io.StringIO(read("?format=csv"))))
    assert rows[0] == ["Unit", "Figures", "Points"] and len(rows) == 121


def test_half_points_are_decimal_in_the_csv_file(read):
    assert list(csv.reader(io.StringIO(read("?format=csv"))))[1] == ["Unit 001", "1", "1.5"]


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"])
def test_text_that_a_spreadsheet_would_run_is_disarmed(text):
    # The list of first characters: OWASP, "CSV Injection" (from memory).
    assert next(csv.reader(io.StringIO(csv_of([[text]]), newline="")))[0].startswith("'")


def test_numbers_below_zero_stay_numbers():
    assert csv_of([[-3, -1.5]]) == '"-3","-1.5"\r\n'


@pytest.mark.parametrize(
    ("twice", "words"), [(0, "0"), (1, "½"), (2, "1"), (7, "3½"), (-1, "\N{MINUS SIGN}½"), (-6, "\N{MINUS SIGN}3")]
)
def test_half_points_read_as_people_write_them(twice, words):
    assert half_points(twice) == words
