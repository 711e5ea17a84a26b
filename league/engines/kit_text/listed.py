"""Kit as JSON: a list of objects, or an object with such a list as its `holdings`."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping

from league.engines.kit_text.model import Column, Row
from league.engines.kit_text.row import column_of, problem
from league.engines.rulesets import gettext_noop

SHOWN = 400


def rows_of(text: str) -> Iterator[Row]:
    """Each item of the list; its place in the list, from 1, is its line number."""
    try:
        document = json.loads(text)
    except (ValueError, RecursionError):
        words = gettext_noop("This begins like JSON but cannot be read as JSON.")
        yield Row(line_number=1, text=text[:SHOWN], cells={}, problems=(problem("unreadable_json", words),))
        return
    items = document.get("holdings") if isinstance(document, Mapping) else document
    if not isinstance(items, list):
        words = gettext_noop("A list of holdings is wanted, or an object with such a list as “holdings”.")
        yield Row(line_number=1, text=text[:SHOWN], cells={}, problems=(problem("no_list", words),))
        return
    for number, item in enumerate(items, start=1):
        yield row_of(number, item)


def row_of(number: int, item: object) -> Row:
    text = written(item)[:SHOWN]
    if not isinstance(item, Mapping):
        words = gettext_noop("A holding is an object with named fields.")
        return Row(line_number=number, text=text, cells={}, problems=(problem("not_an_object", words),))
    cells: dict[Column, str] = {}
    strange = []
    for heading, value in item.items():
        column = column_of(heading)
        if column is None:
            strange.append(heading)
        else:
            cells[column] = cell_of(value)
    words = gettext_noop("There is no field “%(name)s”.")
    problems = tuple(problem("unknown_column", words, name=name) for name in strange)
    return Row(line_number=number, text=text, cells=cells, problems=problems)


def cell_of(value: object) -> str:
    if value is None:
        return ""
    return value if isinstance(value, str) else written(value)


def written(value: object) -> str:
    try:
        return json.dumps(value, ensure_ascii=False)
    except RecursionError:  # read just within the limit of depth, and now a few calls deeper
        return "…"
