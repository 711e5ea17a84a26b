"""A roster is read from whatever a member has, and every line that is no unit says why."""

from __future__ import annotations

import csv
import io
import json
import string
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.engines.roster_text import ParsedUnit, parse_roster, to_csv
from league.engines.rulesets import Quality, Ruleset, UnitClass

RULESET = Ruleset(
    name="Two Ponds",
    qualities=(Quality(key="raw", name="Raw recruits"), Quality(key="veteran", name="Veteran")),
    unit_classes=(
        UnitClass(key="line", name="Line foot", figures_least=4, figures_most=12),
        UnitClass(key="marsh_runners", name="Runners of the marsh", figures_least=3, figures_most=8),
        UnitClass(key="gun", name="Swivel gun", figures_least=3, figures_most=3),
    ),
)


def read(source):
    """The units of a source without bad lines, without their line numbers."""
    roster = parse_roster(source, RULESET)
    assert roster.bad_lines == ()
    return [
        (each.name, each.class_key, each.figures, each.quality_key, each.points, each.gear) for each in roster.units
    ]


def bad(source):
    """Line number and codes of every bad line."""
    return [
        (each.line_number, [fault.code for fault in each.problems]) for each in parse_roster(source, RULESET).bad_lines
    ]


FIELDS = ("name", "class_key", "figures", "quality_key", "points", "gear")
MISSING_ALL = ["missing_class", "missing_figures", "missing_points"]
RED = ("Red Company", "line", 10, "veteran", 60, ())


@pytest.mark.parametrize(
    "line",
    [
        "Red Company: line, 10, veteran, 60",
        "Red Company, line, 10, veteran, 60",
        "Red Company: 60 pts, Veteran, Line Foot, 10 figures",
        "- Red Company: LINE FOOT, 10 figs, VETERAN, 60 points",
        "* Red Company:line,10 models,veteran,60pts",
        "Red Company\tline\t10\tveteran\t60",
        "Red Company; line; 10; veteran; 60",
        "  Red  Company :  line , 10 , veteran , 60  ",
        "1x Red Company: line, 10, veteran, 60",
    ],
)
def test_a_pasted_line_may_be_written_many_ways(line):
    assert read(line) == [RED]


def test_copies_are_units_with_a_number():
    assert read("2x Line foot, 10 figures, veteran, 60 pts, rifles; grenades") == [
        ("Line foot 1", "line", 10, "veteran", 60, ("rifles", "grenades")),
        ("Line foot 2", "line", 10, "veteran", 60, ("rifles", "grenades")),
    ]


def test_a_unit_without_a_name_is_called_after_its_class():
    assert read("marsh runners, 5, 30") == [("Runners of the marsh", "marsh_runners", 5, "", 30, ())]


def test_a_class_of_one_size_needs_no_figures_said():
    assert read("Old Thunder: gun, 45 pts") == [("Old Thunder", "gun", 3, "", 45, ())]


def test_what_looks_like_nothing_else_is_gear():
    assert read("Red Company: line, 10, 60, long muskets, a drum")[0][5] == ("long muskets", "a drum")


def test_every_bad_line_is_named_with_all_that_is_wrong():
    text = "Red Company: line, 10, veteran, 60\n\nboats, -1 figures, 70000000 pts\nnonsense\n"
    assert bad(text) == [
        (3, ["unknown_class", "bad_figures", "bad_points"]),
        (4, ["unknown_class", "missing_figures", "missing_points"]),
    ]


def test_good_lines_are_read_beside_bad_ones():
    roster = parse_roster("nonsense\nRed Company: line, 10, veteran, 60\n", RULESET)
    assert [(each.line_number, each.name) for each in roster.units] == [(2, "Red Company")]


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_a_table_may_have_any_separator_line_end_and_mark(separator, line_end, mark):
    rows = [["name", "class", "figures", "quality", "points"], ["Red Company", "line", "10", "veteran", "60"]]
    assert read(mark + line_end.join(separator.join(row) for row in rows) + line_end) == [RED]


def test_headings_may_be_in_any_order_and_in_plain_words():
    assert read("Cost;Type;Unit name;Models;Training;Weapons\n60;Line foot;Red Company;10;veteran;\n") == [RED]


def test_columns_nobody_knows_are_passed_over():
    assert read("name,class,painted by,figures,quality,points\nRed Company,line,Brannoc,10,veteran,60\n") == [RED]


def test_a_column_of_copies_multiplies_the_unit():
    assert len(read("class,figures,points,qty\nline,8,40,3\n")) == 3


def test_a_table_names_lines_as_the_file_counts_them():
    text = 'name,class,figures,points\n"Red\nCompany",line,10,60\n\nBlue,boats,10,60\n'
    assert bad(text) == [(5, ["unknown_class"])]
    assert parse_roster(text, RULESET).units[0].name == "Red Company"


def test_a_row_longer_than_the_headings_is_told():
    assert bad("class,figures,points\nline,8,40,stray\n") == [(2, ["too_many_cells"])]


def test_a_cell_that_looks_like_a_formula_is_text():
    assert read('name,class,figures,points\n"=1+1",line,8,40\n')[0][0] == "=1+1"


def test_json_may_be_a_list_or_hold_one():
    unit = {"name": "Red Company", "class": "line", "figures": 10, "quality": "veteran", "points": 60}
    assert read(json.dumps([unit])) == read(json.dumps({"units": [unit]})) == [RED]


def test_json_gear_may_be_a_list_or_a_text():
    unit = {"class": "line", "figures": 10, "points": 60}
    units = [unit | {"gear": ["rifles", "a drum"]}, unit | {"gear": "rifles; a drum"}]
    assert {each[5] for each in read(json.dumps(units))} == {("rifles", "a drum")}


def test_json_items_are_named_by_their_place():
    items = [{"class": "line", "figures": 10, "points": 60}, 7, {"class": "line", "figures": True, "points": 1.5}]
    assert bad(json.dumps(items)) == [(2, ["not_an_object", *MISSING_ALL]), (3, ["bad_figures", "bad_points"])]


@pytest.mark.parametrize("text", ["[", "{]", "[" * 100_000, '{"a": NaN', "[" + "9" * 5000 + "]x"])
def test_broken_json_is_one_bad_line(text):
    assert [codes[0] for _line, codes in bad(text)] == ["unreadable_json"]


def test_json_without_a_list_of_units_is_told():
    assert [codes[0] for _line, codes in bad('{"army": []}')] == ["no_list_of_units"]


def test_an_empty_text_is_an_empty_roster():
    assert [read(each) for each in ("", " \n\r\n", b"", "\ufeff")] == [[], [], [], []]


def test_a_file_of_another_encoding_is_read():
    line = "Compagnie d'élite: line, 10, veteran, 60"
    names = {read(line.encode(each))[0][0] for each in ("utf-8", "utf-8-sig", "utf-16", "latin-1")}
    assert names == {"Compagnie d'élite"}


def test_no_more_than_five_hundred_lines_are_read():
    roster = parse_roster("line, 8, 40\n" * 501, RULESET)
    assert len(roster.units) == 500
    assert [(each.line_number, each.problems[0].code) for each in roster.bad_lines] == [(501, "too_many_lines")]


def test_copies_count_towards_the_five_hundred():
    assert [codes for _line, codes in bad("300x line, 8, 40\n300x line, 8, 40\n")] == [["too_many_lines"]]


def test_a_field_of_more_than_two_hundred_characters_is_told():
    assert bad(f"class,figures,points,gear\nline,8,40,{'g' * 201}\n") == [(2, ["too_long"])]


def test_a_name_of_more_than_eighty_characters_is_told():
    assert bad(f"{'n' * 81}: line, 8, 40") == [(1, ["too_long"])]
    assert read(f"{'n' * 80}: line, 8, 40")[0][0] == "n" * 80


def test_characters_that_cannot_be_kept_become_spaces():
    assert read("Red\x00Company: line, 10, veteran, 60") == [RED]


@pytest.mark.parametrize("digits", ["\u0661\u0660", "1e3", "1_0", "+8", "8.0", "0x8", "8 8"])
def test_a_number_is_written_in_plain_digits(digits):
    assert bad(f"class,figures,points\nline,{digits},40\n") == [(2, ["bad_figures"])]


def test_the_words_of_a_fault_are_filled_in():
    (line,) = parse_roster("boats, 8, 40", RULESET).bad_lines
    assert [each.text for each in line.problems] == ["“boats” is no class of this ruleset."]


def test_written_csv_quotes_every_cell_and_guards_formulas():
    """RFC 4180, 2.1 and 2.5; OWASP "CSV Injection": a cell beginning with = + - @ tab or CR gets an apostrophe."""
    unit = ParsedUnit(name="=cmd|' /C'!A0", class_key="line", figures=8, points=40, gear=("@home", "drum"))
    assert to_csv([unit]) == (
        '"name","class","figures","quality","points","gear"\r\n"\'=cmd|\' /C\'!A0","line","8","","40","\'@home; drum"\r\n'
    )


words = st.text(
    st.characters(codec="utf-8", exclude_categories=["C", "Z"], exclude_characters=";"), min_size=1, max_size=20
)
tricky = (
    st.sampled_from(["=1+1", "+7", "-3", "@x", "'=1", "''-", "'", '"', 'a"b', "a,b", "a'b", "[x]", "{y}", "#"]) | words
)
units = st.lists(
    st.builds(
        ParsedUnit,
        name=tricky,
        class_key=st.sampled_from(["line", "gun", "marsh_runners"]),
        figures=st.integers(1, 9999),
        quality_key=st.sampled_from(["", "raw", "veteran"]),
        points=st.integers(0, 1_000_000),
        gear=st.lists(tricky, max_size=4).map(tuple),
    ),
    max_size=8,
)


@given(units)
def test_what_is_written_is_read_back(units):
    roster = parse_roster(to_csv(units), RULESET)
    assert roster.bad_lines == ()
    assert [replace(each, line_number=0) for each in roster.units] == units


@given(units)
def test_no_written_cell_begins_like_a_formula(units):
    rows = csv.reader(io.StringIO(to_csv(units), newline=""))
    assert not [cell for row in rows for cell in row if cell[:1] in {"=", "+", "-", "@", "\t", "\r"}]


# Texts made of what the readers look for, which plain random text would hardly ever hold.
MARKS = [":", ",", ";", "|", '"', "'", "[", "]", "{", "}", "=", "-", " "]
UNSEEN = ["\t", "\n", "\r", "\x00", "\ufeff", "\ud800", "\u2028"]
WORDS = ["name", "class", "figures", "points", "line", "10", "60 pts", "2x ", '"units"', "null", "9" * 30]
pieces = st.sampled_from(MARKS + UNSEEN + WORDS)
any_text = st.text() | st.lists(pieces, max_size=40).map("".join) | st.text(string.printable)


@given(any_text | st.binary())
def test_no_text_at_all_breaks_the_reader(source):
    roster = parse_roster(source, RULESET)
    for unit in roster.units:
        assert unit.class_key in {"line", "gun", "marsh_runners"}
        assert 1 <= unit.figures <= 9999 and 0 <= unit.points <= 1_000_000
        assert 0 < len(unit.name) <= 80 and all(len(each) <= 200 for each in unit.gear)
        unit.name.encode()
    for line in roster.bad_lines:
        assert line.line_number >= 1 and line.problems and all(each.text for each in line.problems)
        assert len(line.text) <= 200


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["name", "class", "figures", "points", "gear", "units", "x"]), inner, max_size=4
        )
    ),
    max_leaves=12,
)


@given(json_values)
def test_no_json_at_all_breaks_the_reader(value):
    roster = parse_roster(json.dumps([value]), RULESET)
    assert len(roster.units) + len(roster.bad_lines) == 1
