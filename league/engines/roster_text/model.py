"""What comes out of a roster typed, pasted or sent as a file."""

from __future__ import annotations

from dataclasses import dataclass

from league.engines.rulesets import Violation

LINES_MOST = 500
FIELD_LONGEST = 200
NAME_LONGEST = 80
GEAR_MOST = 20
FIGURES_MOST = 9_999
POINTS_MOST = 1_000_000


@dataclass(frozen=True, kw_only=True, slots=True)
class ParsedUnit:
    """A unit as read. `line_number` counts lines of text from 1, or items of a JSON list.

    `class_key` and `quality_key` are keys of the ruleset; no quality is the empty string.
    """

    line_number: int = 0
    name: str
    class_key: str
    figures: int
    quality_key: str = ""
    points: int
    gear: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class BadLine:
    """A line that is not a unit, shortened to `FIELD_LONGEST` characters, with all that is wrong with it."""

    line_number: int
    text: str
    problems: tuple[Violation, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class ParsedRoster:
    units: tuple[ParsedUnit, ...] = ()
    bad_lines: tuple[BadLine, ...] = ()
