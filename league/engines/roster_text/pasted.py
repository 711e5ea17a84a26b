"""Rosters as people write them in a message: one unit a line."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from league.engines.roster_text.row import Row, problem
from league.engines.roster_text.words import Column, Words
from league.engines.rulesets import gettext_noop
from league.engines.text import LINE_BREAK, clean

BULLET = re.compile(r"[-*\u2022\u2013]\s+")
COPIES = re.compile(r"([0-9]{1,4})\s*[x\u00d7]\s+", re.IGNORECASE)  # or the multiplication sign
FIGURES = re.compile(r"(-?[0-9]{1,9})\s*(?:figures?|figs?\.?|models?|strong)", re.IGNORECASE)
POINTS = re.compile(r"(-?[0-9]{1,9})\s*(?:points?|pts?\.?)", re.IGNORECASE)
NUMBER = re.compile(r"-?[0-9]{1,9}")
LINE_LONGEST = 2_000


def rows_of(text: str, words: Words) -> Iterator[Row]:
    """Each line that is not blank, taken apart."""
    for number, line in enumerate(LINE_BREAK.split(text), start=1):
        if line.strip():
            yield _row(number, line, words)


def _row(line_number: int, line: str, words: Words) -> Row:
    if len(line) > LINE_LONGEST:
        message = gettext_noop("The line is longer than %(most)s characters.")
        return Row(line_number=line_number, text=line, problems=(problem("line_too_long", message, most=LINE_LONGEST),))
    rest = BULLET.sub("", line.strip(), count=1) if BULLET.match(line.strip()) else line.strip()
    cells: dict[Column, str] = {}
    copies = COPIES.match(rest)
    if copies:
        cells["copies"] = copies[1]
        rest = rest[copies.end() :]
    name, colon, after = rest.partition(":")
    if colon and not re.search(r"[,\t;]", name):
        cells["name"] = name
        rest = after
    _sort_in(_fields(rest), cells, words)
    return Row(line_number=line_number, text=line, cells=cells)


def _fields(text: str) -> Sequence[str]:
    """Fields stand between commas or tabs; semicolons part pieces of gear, or fields where nothing else does."""
    separator = r"[,\t]" if re.search(r"[,\t]", text) else ";"
    return [clean(each) for each in re.split(separator, text)]


def _sort_in(fields: Sequence[str], cells: dict[Column, str], words: Words) -> None:
    """Put each field where it belongs by what it looks like; what looks like nothing else is gear."""
    fields = [each for each in fields if each]
    if fields and "name" not in cells and words.class_key(fields[0]) is None:
        if any(words.class_key(each) for each in fields[1:]):
            cells["name"], *fields = fields
        else:
            cells["class"], *fields = fields
    gear: list[str] = []
    for each in fields:
        column, value = _column_of(each, cells, words)
        if column == "gear":
            gear.append(value)
        else:
            cells[column] = value
    cells["gear"] = "; ".join(gear)


def _column_of(text: str, cells: dict[Column, str], words: Words) -> tuple[Column, str]:
    figures, points = FIGURES.fullmatch(text), POINTS.fullmatch(text)
    if "class" not in cells and words.class_key(text) is not None:
        return "class", text
    if figures and "figures" not in cells:
        return "figures", figures[1]
    if points and "points" not in cells:
        return "points", points[1]
    if "quality" not in cells and words.quality_key(text) is not None:
        return "quality", text
    if NUMBER.fullmatch(text):
        return _bare_number(text, cells)
    return "gear", text


def _bare_number(text: str, cells: dict[Column, str]) -> tuple[Column, str]:
    """The first number without a word is the figures, the second the points."""
    for column in ("figures", "points"):
        if column not in cells:
            return column, text
    return "gear", text
