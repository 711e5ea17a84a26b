"""Rosters as CSV: read with any common separator and any order of columns, written one way."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence

from league.engines.roster_text.model import ParsedUnit
from league.engines.roster_text.row import Row, problem
from league.engines.roster_text.words import Column, column_of
from league.engines.rulesets import gettext_noop
from league.engines.text import SEPARATORS, cells_of, guarded, table_rows, unguarded

HEADINGS: tuple[Column, ...] = ("name", "class", "figures", "quality", "points", "gear")


def separator_of(first_line: str) -> str | None:
    """The separator that makes this line a row of headings with a class among them; None: it is no such row."""
    for separator in SEPARATORS:
        columns = [column_of(cell) for cell in cells_of(first_line, separator)]
        if "class" in columns and len([each for each in columns if each]) > 1:
            return separator
    return None


def rows_of(text: str, separator: str) -> Iterator[Row]:
    """Each row below the headings. A row the CSV reader gives up on is a row with a problem, and the last."""
    headings: list[Column | None] = []
    for first_line, cells in table_rows(text, separator):
        if cells is None:
            words = gettext_noop(
                "From here on this cannot be read as a table: a quote is not closed, or a cell too long."
            )
            yield Row(line_number=first_line, text="", problems=(problem("unreadable_table", words),))
        elif headings:
            yield _row(first_line, cells, headings, separator)
        else:
            headings = [column_of(cell) for cell in cells]


def _row(line_number: int, cells: Sequence[str], headings: Sequence[Column | None], separator: str) -> Row:
    named: dict[Column, str] = {}
    for heading, cell in zip(headings, cells, strict=False):
        if heading and not named.get(heading):
            named[heading] = unguarded(cell)
    text = separator.join(cells)
    if any(cell.strip() for cell in cells[len(headings) :]):
        words = gettext_noop("The row has more cells than there are headings.")
        return Row(line_number=line_number, text=text, cells=named, problems=(problem("too_many_cells", words),))
    return Row(line_number=line_number, text=text, cells=named)


def to_csv(units: Iterable[ParsedUnit]) -> str:
    """Units as CSV (RFC 4180: CRLF, every cell quoted) that `parse_roster` reads back as they were.

    A cell that a spreadsheet might run as a formula gets an apostrophe in front (OWASP, "CSV Injection"); reading
    takes it off again.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(HEADINGS)
    for unit in units:
        cells = (unit.name, unit.class_key, unit.figures, unit.quality_key, unit.points, "; ".join(unit.gear))
        writer.writerow([guarded(str(cell)) for cell in cells])
    return out.getvalue()
