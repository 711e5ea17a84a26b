"""What was read of a text, as people check it before it is written."""

from __future__ import annotations

from dataclasses import dataclass

from league.engines.roster_text import ParsedRoster, ParsedUnit
from league.engines.rulesets import Ruleset
from league.rulesets.queries import violation_in_words

__all__ = ["BadLine", "Preview", "PreviewUnit", "preview_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class PreviewUnit:
    unit: ParsedUnit
    class_name: str
    quality_name: str


@dataclass(frozen=True, kw_only=True, slots=True)
class BadLine:
    """A line that is no unit, with everything that is wrong with it in words."""

    line_number: int
    text: str
    problems: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Preview:
    units: tuple[PreviewUnit, ...]
    bad_lines: tuple[BadLine, ...]
    figures: int
    points: int


def preview_of(parsed: ParsedRoster, rules: Ruleset) -> Preview:
    return Preview(
        units=tuple(preview_unit(unit, rules) for unit in parsed.units),
        bad_lines=tuple(
            BadLine(
                line_number=line.line_number,
                text=line.text,
                problems=tuple(violation_in_words(each) for each in line.problems),
            )
            for line in parsed.bad_lines
        ),
        figures=sum(unit.figures for unit in parsed.units),
        points=sum(unit.points for unit in parsed.units),
    )


def preview_unit(unit: ParsedUnit, rules: Ruleset) -> PreviewUnit:
    unit_class, quality = rules.unit_class(unit.class_key), rules.quality(unit.quality_key)
    return PreviewUnit(
        unit=unit,
        class_name=unit_class.name if unit_class else unit.class_key,
        quality_name=quality.name if quality else unit.quality_key,
    )
