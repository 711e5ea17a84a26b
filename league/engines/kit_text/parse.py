"""Whatever kit was typed, pasted or saved as, into pieces."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from league.engines.kit_text import listed, pasted, table
from league.engines.kit_text.model import LINES_MOST, BadLine, Kind, Kinds, ParsedKit, ParsedPieces, Row
from league.engines.kit_text.row import bad_line, pieces_of, problem
from league.engines.rulesets import gettext_noop
from league.engines.text import BOM, LINE_BREAK, decoded

TEXT_LONGEST = 1_000_000


def parse_kit(source: str | bytes, kinds: Iterable[Kind]) -> ParsedKit:
    """The pieces in a text or a file, and every line that is none with all that is wrong with it. Never raises.

    Read are JSON (it begins with a bracket or a brace); CSV with comma, semicolon, tab or bar, if the first line that
    is not blank is a row of headings with a kind and a count among them; otherwise lines such as

        12 Suppression markers, red, keep 2, in the red tin
        1 x Nested template, worn

    Kinds are known by key or by name, in any case, one or several. The same thing on two lines is a mistake of the
    list. At most 500 lines are read.
    """
    text = decoded(source) if isinstance(source, bytes) else source
    text = text.removeprefix(BOM)
    if len(text) > TEXT_LONGEST:
        words = gettext_noop("The text is longer than %(most)s characters.")
        return ParsedKit(bad_lines=(bad_line(1, text[:400], problem("text_too_long", words, most=TEXT_LONGEST)),))
    known = Kinds(kinds)
    pieces: list[ParsedPieces] = []
    bad_lines: list[BadLine] = []
    seen: dict[tuple[object, ...], int] = {}
    for count, row in enumerate(rows_of(text), start=1):
        if count > LINES_MOST:
            words = gettext_noop("A list has at most %(most)s lines; from here on nothing was read.")
            bad_lines.append(bad_line(row.line_number, row.text, problem("too_many_lines", words, most=LINES_MOST)))
            break
        read = pieces_of(row, known)
        if isinstance(read, BadLine):
            bad_lines.append(read)
            continue
        before = seen.setdefault(alike(read), row.line_number)
        if before != row.line_number:
            words = gettext_noop("The same is on line %(before)s: write them together.")
            bad_lines.append(bad_line(row.line_number, row.text, problem("twice", words, before=before)))
        else:
            pieces.append(read)
    return ParsedKit(pieces=tuple(pieces), bad_lines=tuple(bad_lines))


def alike(read: ParsedPieces) -> tuple[object, ...]:
    return (read.kind, read.colour.casefold(), read.scale_mm, read.condition, read.place.casefold(), read.is_private)


def rows_of(text: str) -> Iterator[Row]:
    if text.lstrip().startswith(("[", "{")):
        return listed.rows_of(text)
    first_line = next((line for line in LINE_BREAK.split(text) if line.strip()), "")
    separator = table.separator_of(first_line)
    return pasted.rows_of(text) if separator is None else table.rows_of(text, separator)
