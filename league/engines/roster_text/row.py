"""From one row of named cells to units, with all that is wrong with it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from league.engines.roster_text.model import (
    FIELD_LONGEST,
    FIGURES_MOST,
    GEAR_MOST,
    LINES_MOST,
    NAME_LONGEST,
    POINTS_MOST,
    BadLine,
    ParsedUnit,
)
from league.engines.roster_text.words import Column, Words
from league.engines.rulesets import Violation, gettext_noop
from league.engines.text import clean, shortened

WHOLE_NUMBER = re.compile(r"[0-9]{1,9}")
NO_CELLS: Mapping[Column, str] = {}


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """Cells by column, as typed. `problems` were found while the row was taken apart."""

    line_number: int
    text: str
    cells: Mapping[Column, str] = field(default_factory=lambda: NO_CELLS)
    problems: tuple[Violation, ...] = ()


def units_of(row: Row, words: Words) -> tuple[ParsedUnit, ...] | BadLine:
    """The units a row stands for: one, or as many as it asks copies of, numbered; or why it is none."""
    reading = _Reading(row, words)
    unit = reading.unit()
    copies = reading.number("copies", 1, LINES_MOST, missing=1)
    if reading.problems:
        return bad_line(row.line_number, row.text, *reading.problems)
    if copies == 1:
        return (unit,)
    names = [f"{unit.name} {number}" for number in range(1, copies + 1)]
    if len(names[-1]) > NAME_LONGEST:
        return bad_line(row.line_number, row.text, too_long("name", NAME_LONGEST))
    return tuple(replace(unit, name=name) for name in names)


def bad_line(line_number: int, text: str, *problems: Violation) -> BadLine:
    return BadLine(line_number=line_number, text=shortened(text, FIELD_LONGEST), problems=problems)


def problem(code: str, message: str, **args: object) -> Violation:
    return Violation(code=code, message=message, args=args)


def too_long(column: Column, most: int) -> Violation:
    words = gettext_noop("The %(column)s has more than %(most)s characters.")
    return Violation(code="too_long", message=words, args={"column": column, "most": most}, place=column)


class _Reading:
    """Reads a row's cells one after the other, noting what is wrong and carrying on."""

    def __init__(self, row: Row, words: Words) -> None:
        self.row = row
        self.words = words
        self.problems: list[Violation] = list(row.problems)

    def note(self, column: Column, code: str, message: str, **args: object) -> None:
        self.problems.append(Violation(code=code, message=message, args={"column": column, **args}, place=column))

    def cell(self, column: Column, longest: int = FIELD_LONGEST) -> str:
        raw = self.row.cells.get(column, "")
        text = clean(raw[: FIELD_LONGEST * 4])
        if len(raw) > FIELD_LONGEST * 4 or len(text) > longest:
            self.problems.append(too_long(column, longest))
            return text[:longest]
        return text

    def unit(self) -> ParsedUnit:
        class_key = self._class_key()
        return ParsedUnit(
            line_number=self.row.line_number,
            name=self.cell("name", NAME_LONGEST) or self.words.class_name(class_key)[:NAME_LONGEST],
            class_key=class_key,
            figures=self.number("figures", 1, FIGURES_MOST, missing=self._only_size(class_key)),
            quality_key=self._quality_key(),
            points=self.number("points", 0, POINTS_MOST, missing=None),
            gear=self._gear(),
        )

    def _class_key(self) -> str:
        text = self.cell("class")
        key = self.words.class_key(text)
        if not text:
            self.note("class", "missing_class", gettext_noop("The class is missing."))
        elif key is None:
            self.note("class", "unknown_class", gettext_noop("“%(text)s” is no class of this ruleset."), text=text)
        return key or ""

    def _quality_key(self) -> str:
        text = self.cell("quality")
        key = self.words.quality_key(text) if text else ""
        if key is None:
            words = gettext_noop("“%(text)s” is no quality of this ruleset.")
            self.note("quality", "unknown_quality", words, text=text)
        return key or ""

    def _only_size(self, class_key: str) -> int | None:
        """How many figures a unit has if the ruleset leaves no choice."""
        unit_class = self.words.ruleset.unit_class(class_key)
        if unit_class is None or unit_class.figures_least != unit_class.figures_most:
            return None
        return unit_class.figures_least

    def number(self, column: Column, least: int, most: int, *, missing: int | None) -> int:
        text = self.cell(column)
        if not text:
            if missing is None:
                self.note(column, f"missing_{column}", gettext_noop("The %(column)s are missing."))
            return least if missing is None else missing
        if not WHOLE_NUMBER.fullmatch(text) or not least <= int(text) <= most:
            words = gettext_noop("The %(column)s must be a whole number from %(least)s to %(most)s, not “%(text)s”.")
            self.note(column, f"bad_{column}", words, least=least, most=most, text=text)
            return least
        return int(text)

    def _gear(self) -> tuple[str, ...]:
        gear = tuple(filter(None, (clean(each) for each in self.cell("gear").split(";"))))
        if len(gear) > GEAR_MOST:
            words = gettext_noop("A unit carries %(most)s kinds of gear at most, not %(count)s.")
            self.note("gear", "too_much_gear", words, most=GEAR_MOST, count=len(gear))
        return gear
