"""Whatever a roster was typed, pasted or saved as, into units."""

from __future__ import annotations

from collections.abc import Iterator

from league.engines.roster_text import listed, pasted, table
from league.engines.roster_text.model import LINES_MOST, BadLine, ParsedRoster, ParsedUnit
from league.engines.roster_text.row import Row, bad_line, problem, units_of
from league.engines.roster_text.words import Words
from league.engines.rulesets import Ruleset, gettext_noop
from league.engines.text import BOM, LINE_BREAK, decoded

TEXT_LONGEST = 1_000_000


def parse_roster(source: str | bytes, ruleset: Ruleset) -> ParsedRoster:
    """The units in a text or a file, and every line that is none with all that is wrong with it. Never raises.

    Read are JSON (it begins with a bracket or a brace); CSV with comma, semicolon, tab or bar, if the first line that
    is not blank is a row of headings with a class among them; otherwise lines such as

        2x Line foot, 10 figures, veteran, 60 pts, rifles; grenades
        Red Company: line, 10, veteran, 60

    Classes and qualities are known by key or by name, in any case. A unit without a name is called after its class.
    At most 500 lines and 500 units are read. Nothing is judged legal or illegal here.
    """
    text = decoded(source) if isinstance(source, bytes) else source
    text = text.removeprefix(BOM)
    words = Words(ruleset)
    if len(text) > TEXT_LONGEST:
        message = gettext_noop("The text is longer than %(most)s characters.")
        return ParsedRoster(bad_lines=(bad_line(1, text[:400], problem("text_too_long", message, most=TEXT_LONGEST)),))
    units: list[ParsedUnit] = []
    bad_lines: list[BadLine] = []
    for count, row in enumerate(_rows(text, words), start=1):
        read = units_of(row, words)
        if count > LINES_MOST or (not isinstance(read, BadLine) and len(units) + len(read) > LINES_MOST):
            message = gettext_noop("A roster has at most %(most)s lines and units; from here on nothing was read.")
            bad_lines.append(bad_line(row.line_number, row.text, problem("too_many_lines", message, most=LINES_MOST)))
            break
        if isinstance(read, BadLine):
            bad_lines.append(read)
        else:
            units += read
    return ParsedRoster(units=tuple(units), bad_lines=tuple(bad_lines))


def _rows(text: str, words: Words) -> Iterator[Row]:
    if text.lstrip().startswith(("[", "{")):
        return listed.rows_of(text)
    first_line = next((line for line in LINE_BREAK.split(text) if line.strip()), "")
    separator = table.separator_of(first_line)
    return pasted.rows_of(text, words) if separator is None else table.rows_of(text, separator)
