"""Lists of kit, as people have them, read into pieces; and every line that is none, with all that is wrong with it."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.engines.kit_text import Kind, ParsedPieces, parse_kit, to_csv

KINDS = (
    Kind(key="suppression", name="Suppression marker"),
    Kind(key="d6", name="Six-sided die"),
    Kind(key="nested", name="Nested circles"),
    Kind(key="bag", name="Draw bag"),
)


def read(source) -> list[ParsedPieces]:
    parsed = parse_kit(source, KINDS)
    assert parsed.bad_lines == ()
    return list(parsed.pieces)


def wrong(source) -> dict[int, list[str]]:
    return {line.line_number: [each.text for each in line.problems] for line in parse_kit(source, KINDS).bad_lines}


def test_a_line_says_how_many_of_what_and_how_they_are():
    (told,) = read("12 Suppression markers, red, keep 2, 28 mm, worn, in the red tin, bought last year")
    assert told == ParsedPieces(
        line_number=1,
        kind="suppression",
        count=12,
        colour="red",
        scale_mm=28,
        condition="worn",
        kept=2,
        place="the red tin",
        note="bought last year",
    )


@pytest.mark.parametrize(
    "line",
    ["24 six-sided dice", "24x Six-Sided Die", "- 24 x six-sided die", "24 d6", "24 \N{MULTIPLICATION SIGN} D6"],
)
def test_a_kind_is_known_by_key_or_name_in_any_case_one_or_several(line):
    (told,) = read(line)
    assert (told.kind, told.count) == ("d6", 24)


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_a_table_is_read_with_any_separator_and_order_of_columns(separator):
    rows = [["Colour", "How many", "What", "Kept"], ["red", "12", "Suppression marker", "2"], ["", "1", "bag", ""]]
    told = read("\r\n".join(separator.join(row) for row in rows))
    assert [(each.kind, each.count, each.colour, each.kept) for each in told] == [
        ("suppression", 12, "red", 2),
        ("bag", 1, "", 0),
    ]


def test_json_is_a_list_of_objects():
    told = read(json.dumps({"holdings": [{"kind": "d6", "count": 12, "private": True, "scale": None}]}))
    assert [(each.kind, each.count, each.is_private) for each in told] == [("d6", 12, True)]


def test_every_bad_line_is_named_with_everything_wrong_with_it():
    assert wrong("12 Smoke grenades, 900 mm\n\nDraw bag\n3 bag, keep 5") == {
        1: [
            "“Smoke grenades” is no kind on the club's list. Describe the kind first.",
            "The scale is a height of figures from 1 to 200 mm, not “900 mm”.",
        ],
        3: ["It does not say how many."],
        4: ["5 are kept, but there are only 3."],
    }


@pytest.mark.parametrize("count", ["0", "-3", "100001", "2.5", "many", "9" * 40])
def test_a_negative_or_absurd_count_is_refused_with_what_was_typed(count):
    (problems,) = wrong(f"kind,count\nd6,{count}").values()
    assert problems == [f"How many must be a whole number from 1 to 100000, not “{count}”."]


def test_an_unknown_column_is_named_with_the_known_ones():
    ((problem,),) = wrong("kind,count,weight\nd6,3,12").values()
    assert problem.startswith("There is no column “weight”; known are: kind, count, colour")


def test_the_same_thing_on_two_lines_is_a_mistake_of_the_list():
    assert wrong("12 d6, red\n6 d6, white\n3 D6, Red") == {3: ["The same is on line 1: write them together."]}


@pytest.mark.parametrize(
    ("source", "fault"),
    [
        ('[{"kind": "d6", "count": 1', "This begins like JSON but cannot be read as JSON."),
        ('{"units": 3}', "A list of holdings is wanted, or an object with such a list as “holdings”."),
        ("[3]", "A holding is an object with named fields."),
        ('[{"kind": "d6", "count": 1, "weight": 3}]', "There is no field “weight”."),
        (
            'kind,count\nd6,"3',
            "From here on this cannot be read as a table: a quote is not closed, or a cell too long.",
        ),
        ("kind,count\nd6,3,4", "The row has more cells than there are headings."),
        ("kind,count,condition\nd6,3,rusty", "The condition is good, worn or damaged, not “rusty”."),
        ("kind,count,private\nd6,3,perhaps", "Whether only you see it is yes or no, not “perhaps”."),
    ],
)
def test_what_cannot_be_read_says_why(source, fault):
    assert list(wrong(source).values()) == [[fault]]


def test_a_list_of_more_than_five_hundred_lines_is_read_no_further():
    parsed = parse_kit("\n".join(f"1 d6, colour {number}" for number in range(502)), KINDS)
    assert len(parsed.pieces) == 500
    assert [each.line_number for each in parsed.bad_lines] == [501]


def test_a_spreadsheets_own_encoding_is_read():
    assert read("kind,count,colour\r\nd6,3,grün".encode("utf-16"))[0].colour == "grün"
    assert read("kind,count,colour\r\nd6,3,gr\xfcn".encode("latin-1"))[0].colour == "grün"


@given(st.one_of(st.text(), st.binary()))
def test_nothing_whatever_makes_the_reader_stumble(source):
    parse_kit(source, KINDS)


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), max_size=20)


@given(
    st.lists(
        st.builds(
            ParsedPieces,
            kind=st.sampled_from([kind.key for kind in KINDS]),
            count=st.integers(5, 100_000),
            colour=WORDS,
            scale_mm=st.none() | st.integers(1, 200),
            condition=st.sampled_from(["good", "worn", "damaged"]),
            kept=st.integers(0, 5),
            place=WORDS,
            is_private=st.booleans(),
            note=WORDS,
        ),
        max_size=6,
        unique_by=lambda each: (
            each.kind,
            each.colour.casefold(),
            each.scale_mm,
            each.condition,
            each.place.casefold(),
        ),
    )
)
def test_what_is_written_is_read_back_as_it_was(pieces):
    """Also where a cell looks like a formula or carries apostrophes of its own."""
    told = read(to_csv(pieces))
    assert [(each.kind, each.count, each.colour, each.note, each.place) for each in told] == [
        (each.kind, each.count, each.colour, each.note, each.place) for each in pieces
    ]
    assert [(each.scale_mm, each.condition, each.kept, each.is_private) for each in told] == [
        (each.scale_mm, each.condition, each.kept, each.is_private) for each in pieces
    ]


def test_a_cell_that_a_spreadsheet_would_run_is_disarmed():
    """OWASP, "CSV Injection": no cell begins with =, +, - or @."""
    text = to_csv([ParsedPieces(kind="d6", count=1, note="=1+1", place="@home")])
    assert '"\'=1+1"' in text and '"\'@home"' in text
