"""Reading what was typed into the search box."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from league.stores.queries import Asked, read_asked

TODAY = date(2026, 3, 19)


@pytest.mark.parametrize(
    ("text", "words", "sizes", "on"),
    [
        ("Who has spare red markers, free on the 12th?", ("red", "marker"), (), date(2026, 4, 12)),
        ("red markers 19th", ("red", "marker"), (), TODAY),
        ("hills on the 2nd of May", ("hill",), (), date(2026, 5, 2)),
        ("dice 31st", ("dice",), (), date(2026, 3, 31)),
        ("dice on the 31st of February", ("dice", "31st", "february"), (), None),
        ("dice 29th feb", ("dice",), (), date(2028, 2, 29)),
        ("mat 2026-04-02", ("mat",), (), date(2026, 4, 2)),
        ("mat 2026-02-30", ("mat", "2026", "02", "30"), (), None),
        ("28mm hills", ("hill",), (28,), None),
        ("a 3 inch template", ("template",), (76,), None),
        ('36" tape', ("tape",), (914,), None),
        ("glass", ("glass",), (), None),
        ("", (), (), None),
    ],
)
def test_words_sizes_and_days_are_told_apart(text, words, sizes, on):
    assert read_asked(text, today=TODAY) == Asked(words=words, sizes_mm=sizes, on=on)


@given(st.text(max_size=120), st.dates(min_value=date(2000, 1, 1), max_value=date(2100, 1, 1)))
def test_whatever_is_typed_is_read(text, today):
    asked = read_asked(text, today=today)
    assert len(asked.words) <= 8


@given(st.integers(1, 31), st.dates(min_value=date(2000, 1, 1), max_value=date(2100, 1, 1)))
def test_a_day_of_the_month_is_the_next_one(day, today):
    on = read_asked(f"markers {day}th", today=today).on
    assert on is not None
    assert on.day == day
    assert 0 <= (on - today).days <= 61
