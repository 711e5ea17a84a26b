"""Kit as CSV: read with any common separator and any order of columns, written one way."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from league.engines.kit_text.model import Column, ParsedPieces, Row
from league.engines.kit_text.row import column_of, problem
from league.engines.rulesets import Violation, gettext_noop
from league.engines.text import SEPARATORS, cells_of, clean, guarded, table_rows, unguarded

HEADINGS: Final[tuple[Column, ...]] = (
    "kind",
    "count",
    "colour",
    "scale",
    "condition",
    "kept",
    "place",
    "private",
    "note",
)


def separator_of(first_line: str) -> str | None:
    """The separator that makes this line a row of headings, kind and count among them; None: it is no such row."""
    for separator in SEPARATORS:
        if {"kind", "count"} <= {column_of(cell) for cell in cells_of(first_line, separator)}:
            return separator
    return None


def rows_of(text: str, separator: str) -> Iterator[Row]:
    """Each row below the headings. A row the CSV reader gives up on is a row with a problem, and the last."""
    headings: list[Column | None] = []
    for first_line, cells in table_rows(text, separator, strict=True):
        if cells is None:
            words = gettext_noop(
                "From here on this cannot be read as a table: a quote is not closed, or a cell too long."
            )
            yield Row(line_number=first_line, text="", cells={}, problems=(problem("unreadable_table", words),))
        elif headings:
            yield row_of(first_line, cells, headings, separator)
        else:
            headings = [column_of(cell) for cell in cells]
            if strange := tuple(unknown_columns(cells)):
                yield Row(line_number=first_line, text=separator.join(cells), cells={}, problems=strange)
                return


def unknown_columns(headings: Sequence[str]) -> Iterator[Violation]:
    words = gettext_noop("There is no column “%(name)s”; known are: %(known)s.")
    for heading in headings:
        if heading.strip() and column_of(heading) is None:
            yield problem("unknown_column", words, name=clean(heading), known=", ".join(HEADINGS))


def row_of(line_number: int, cells: Sequence[str], headings: Sequence[Column | None], separator: str) -> Row:
    named = {heading: unguarded(cell) for heading, cell in zip(headings, cells, strict=False) if heading}
    problems: tuple[Violation, ...] = ()
    if any(cell.strip() for cell in cells[len(headings) :]):
        words = gettext_noop("The row has more cells than there are headings.")
        problems = (problem("too_many_cells", words),)
    return Row(line_number=line_number, text=separator.join(cells), cells=named, problems=problems)


def to_csv(pieces: Iterable[ParsedPieces]) -> str:
    """Pieces as CSV (RFC 4180: CRLF, every cell quoted) that `parse_kit` reads back as they were."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(HEADINGS)
    for each in pieces:
        cells = (
            each.kind,
            each.count,
            each.colour,
            each.scale_mm or "",
            each.condition,
            each.kept,
            each.place,
            "yes" if each.is_private else "",
            each.note,
        )
        writer.writerow([guarded(str(cell)) for cell in cells])
    return out.getvalue()
