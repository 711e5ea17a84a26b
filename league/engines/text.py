"""Text as people have it: files of any encoding, cells with stray spaces, spreadsheets with formulas in them."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Iterator, Sequence
from typing import Final

__all__ = [
    "BOM",
    "LINE_BREAK",
    "SEPARATORS",
    "cells_of",
    "clean",
    "decoded",
    "folded",
    "guarded",
    "shortened",
    "table_rows",
    "unguarded",
]

BOM: Final = "\ufeff"
# What parts the cells of a table that was saved or copied.
SEPARATORS: Final = (",", ";", "\t", "|")
LINE_BREAK = re.compile(r"\r\n|\r|\n")
SPACES = re.compile(r"\s+")
# Controls and half surrogate pairs, which a database cannot store; a tab or a line break in a cell is but a space.
UNFIT = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff\u2028\u2029]")
# A cell that a spreadsheet may take for a formula; any apostrophes before it are the guard's doing or must look so.
FORMULA = re.compile(r"'*[=+\-@\t\r]")


def decoded(source: bytes) -> str:
    """A file's text: UTF-8, UTF-16 where its mark says so, or else Latin-1, which spreadsheets of old wrote."""
    if source.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return source.decode("utf-16", errors="replace")
    try:
        return source.decode("utf-8")
    except UnicodeDecodeError:
        return source.decode("latin-1")


def clean(text: str) -> str:
    """One line without stray spaces and without characters that cannot be kept."""
    return SPACES.sub(" ", UNFIT.sub(" ", text)).strip()


def folded(text: str) -> str:
    """What two spellings of one word have in common: no case, and dashes and underscores count as spaces."""
    return SPACES.sub(" ", text.replace("_", " ").replace("-", " ")).strip().casefold()


def shortened(text: str, longest: int) -> str:
    """One line of at most so many characters."""
    shown = clean(text[: longest * 2])
    return shown if len(shown) <= longest else shown[: longest - 1] + "…"


def guarded(cell: str) -> str:
    """A cell that no spreadsheet runs as a formula (OWASP, "CSV Injection"); `unguarded` takes it back."""
    return f"'{cell}" if FORMULA.match(cell) else cell


def unguarded(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and FORMULA.match(cell) else cell


def cells_of(line: str, separator: str) -> Sequence[str]:
    """The cells of one line; none where it is no line of a table."""
    try:
        return next(csv.reader([line], delimiter=separator), [])
    except csv.Error:
        return []


def table_rows(text: str, separator: str, *, strict: bool = False) -> Iterator[tuple[int, list[str] | None]]:
    """Rows with anything in them and the line each begins on. None for cells, and the end: from there on it cannot be read
    as a table (a cell too long or, where that is looked at `strict`ly, a quote that is not closed).
    """
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=strict)
    first_line = 1
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error:
            yield first_line, None
            return
        if any(cell.strip() for cell in cells):
            yield first_line, cells
        first_line = reader.line_num + 1
