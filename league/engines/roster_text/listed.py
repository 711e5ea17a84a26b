"""Rosters as JSON: a list of objects, or an object with such a list as its `units`."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping

from league.engines.roster_text.row import Row, problem
from league.engines.roster_text.words import Column, column_of
from league.engines.rulesets import gettext_noop


def rows_of(text: str) -> Iterator[Row]:
    """Each item of the list; its place in the list, from 1, is its line number."""
    try:
        document = json.loads(text)
    except (ValueError, RecursionError):
        words = gettext_noop("This begins like JSON but cannot be read as JSON.")
        yield Row(line_number=1, text=text[:400], problems=(problem("unreadable_json", words),))
        return
    items = document.get("units") if isinstance(document, Mapping) else document
    if not isinstance(items, list):
        words = gettext_noop("A list of units is wanted, or an object with such a list as “units”.")
        yield Row(line_number=1, text=text[:400], problems=(problem("no_list_of_units", words),))
        return
    for number, item in enumerate(items, start=1):
        yield _row(number, item)


def _row(number: int, item: object) -> Row:
    text = _written(item)[:400]
    if not isinstance(item, Mapping):
        words = gettext_noop("A unit is an object with named fields.")
        return Row(line_number=number, text=text, problems=(problem("not_an_object", words),))
    cells: dict[Column, str] = {}
    for heading, value in item.items():
        column = column_of(heading)
        if column and not cells.get(column):
            cells[column] = _cell(value)
    return Row(line_number=number, text=text, cells=cells)


def _cell(value: object) -> str:
    """A value as a cell of text; a list of gear is parted by semicolons, and what is no text stays recognisable."""
    if value is None:
        return ""
    if isinstance(value, list):
        return "; ".join(each if isinstance(each, str) else _written(each) for each in value)
    return value if isinstance(value, str) else _written(value)


def _written(value: object) -> str:
    try:
        return json.dumps(value, ensure_ascii=False)
    except RecursionError:  # read just within the limit of depth, and now a few calls deeper
        return "…"
