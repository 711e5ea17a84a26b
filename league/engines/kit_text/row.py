"""From one row of named cells to pieces, with all that is wrong with it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from league.engines.kit_text.model import (
    FIELD_LONGEST,
    LONGEST,
    PIECES_MOST,
    SCALE_MOST,
    BadLine,
    Column,
    Condition,
    Kinds,
    ParsedPieces,
    Row,
)
from league.engines.rulesets import Violation, gettext_noop
from league.engines.text import clean, folded, shortened

__all__ = ["COLUMNS", "CONDITIONS", "bad_line", "column_of", "pieces_of", "problem"]

COLUMNS: Final[Mapping[str, Column]] = {
    "kind": "kind",
    "what": "kind",
    "item": "kind",
    "thing": "kind",
    "count": "count",
    "how many": "count",
    "pieces": "count",
    "number": "count",
    "quantity": "count",
    "qty": "count",
    "colour": "colour",
    "color": "colour",
    "scale": "scale",
    "scale mm": "scale",
    "condition": "condition",
    "state": "condition",
    "kept": "kept",
    "keep": "kept",
    "kept for own use": "kept",
    "place": "place",
    "where": "place",
    "where it lies": "place",
    "private": "private",
    "only i see it": "private",
    "note": "note",
    "notes": "note",
}
CONDITIONS: Final[Mapping[str, Condition]] = {
    "good": "good",
    "fine": "good",
    "new": "good",
    "worn": "worn",
    "worn, but serves": "worn",
    "damaged": "damaged",
    "broken": "damaged",
}
YES: Final = frozenset({"yes", "y", "true", "1", "x"})
NO: Final = frozenset({"", "no", "n", "false", "0"})
WHOLE_NUMBER = re.compile(r"[0-9]{1,9}")
SCALE = re.compile(r"([0-9]{1,9})\s*(?:mm)?", re.IGNORECASE)


def column_of(heading: str) -> Column | None:
    return COLUMNS.get(folded(clean(heading)))


def problem(code: str, message: str, place: str = "", /, **args: object) -> Violation:
    return Violation(code=code, message=message, args=args, place=place)


def bad_line(line_number: int, text: str, *problems: Violation) -> BadLine:
    return BadLine(line_number=line_number, text=shortened(text, FIELD_LONGEST), problems=problems)


def pieces_of(row: Row, kinds: Kinds) -> ParsedPieces | BadLine:
    """The pieces a row stands for, or why it stands for none."""
    if row.problems and not row.cells:
        return bad_line(row.line_number, row.text, *row.problems)
    reading = _Reading(row, kinds)
    read = reading.pieces()
    return bad_line(row.line_number, row.text, *reading.problems) if reading.problems else read


class _Reading:
    """Reads a row's cells one after the other, noting what is wrong and carrying on."""

    def __init__(self, row: Row, kinds: Kinds) -> None:
        self.row = row
        self.kinds = kinds
        self.problems: list[Violation] = list(row.problems)

    def pieces(self) -> ParsedPieces:
        count = self.number("count", 1, PIECES_MOST, missing=None)
        kept = self.number("kept", 0, PIECES_MOST, missing=0)
        if kept > count and not self.problems:
            words = gettext_noop("%(kept)s are kept, but there are only %(count)s.")
            self.problems.append(problem("kept_more", words, "kept", kept=kept, count=count))
        return ParsedPieces(
            line_number=self.row.line_number,
            kind=self.kind(),
            count=count,
            colour=self.cell("colour"),
            scale_mm=self.scale(),
            condition=self.condition(),
            kept=kept,
            place=self.cell("place"),
            is_private=self.is_private(),
            note=self.cell("note"),
        )

    def cell(self, column: Column) -> str:
        longest = LONGEST.get(column, FIELD_LONGEST)
        raw = self.row.cells.get(column, "")
        text = clean(raw[: longest * 4])
        if len(raw) > longest * 4 or len(text) > longest:
            words = gettext_noop("The %(column)s has more than %(most)s characters.")
            self.problems.append(problem("too_long", words, column, column=column, most=longest))
            return text[:longest]
        return text

    def kind(self) -> str:
        text = self.cell("kind")
        key = self.kinds.key(text) if text else None
        if not text:
            self.problems.append(problem("missing_kind", gettext_noop("It does not say what it is."), "kind"))
        elif key is None:
            words = gettext_noop("“%(text)s” is no kind on the club's list. Describe the kind first.")
            self.problems.append(problem("unknown_kind", words, "kind", text=text))
        return key or ""

    def number(self, column: Column, least: int, most: int, *, missing: int | None) -> int:
        text = self.cell(column)
        if not text:
            if missing is None:
                words = gettext_noop("It does not say how many.")
                self.problems.append(problem(f"missing_{column}", words, column))
            return least if missing is None else missing
        if not WHOLE_NUMBER.fullmatch(text) or not least <= int(text) <= most:
            words = gettext_noop("How many must be a whole number from %(least)s to %(most)s, not “%(text)s”.")
            if column == "kept":
                words = gettext_noop(
                    "How many are kept must be a whole number from %(least)s to %(most)s, not “%(text)s”."
                )
            self.problems.append(problem(f"bad_{column}", words, column, least=least, most=most, text=text))
            return least
        return int(text)

    def scale(self) -> int | None:
        text = self.cell("scale")
        found = SCALE.fullmatch(text)
        if not text:
            return None
        if not found or not 1 <= int(found[1]) <= SCALE_MOST:
            words = gettext_noop("The scale is a height of figures from 1 to %(most)s mm, not “%(text)s”.")
            self.problems.append(problem("bad_scale", words, "scale", most=SCALE_MOST, text=text))
            return None
        return int(found[1])

    def condition(self) -> Condition:
        text = self.cell("condition")
        found = CONDITIONS.get(text.casefold() or "good")
        if found is None:
            words = gettext_noop("The condition is good, worn or damaged, not “%(text)s”.")
            self.problems.append(problem("unknown_condition", words, "condition", text=text))
        return found or "good"

    def is_private(self) -> bool:
        text = self.cell("private").casefold()
        if text not in YES | NO:
            words = gettext_noop("Whether only you see it is yes or no, not “%(text)s”.")
            self.problems.append(problem("bad_private", words, "private", text=text))
        return text in YES
