"""Sizes of gaming tables, and lengths of kit, as people type them, in whole millimetres, and back.

The inch is 25.4 mm exactly (international yard and pound agreement of 1959: one yard is 0.9144 m).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

__all__ = ["NotASize", "Size", "as_text", "in_feet", "in_metric", "lengths_as_text", "parse", "parse_lengths"]

TIMES, PRIME, APOSTROPHE = "\N{MULTIPLICATION SIGN}", "\N{PRIME}", "\N{RIGHT SINGLE QUOTATION MARK}"
INCH = Fraction(254, 10)
UNITS = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": INCH,
    "ft": 12 * INCH,
}
SPELLINGS = {
    **{unit: unit for unit in UNITS},
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("inch", "inches", '"', "″", "”", "''"), "in"),
    **dict.fromkeys(("foot", "feet", "'", PRIME, APOSTROPHE), "ft"),
}
LONGEST_TEXT, LONGEST_LIST = 60, 200
NUMBER = r"\d{1,6}(?:[.,]\d{1,4})?"
PART = re.compile(rf"\s*({NUMBER})\s*([a-z]+|''|[\"″”'{PRIME}{APOSTROPHE}])?\.?\s*")
BETWEEN = re.compile(rf"\s*(?:[x{TIMES}*]|by)\s*")
LISTED = re.compile(rf"\s*(?:,\s|;|\+|[x{TIMES}*]|\band\b)\s*")


class NotASize(ValueError):
    """The text is no size. `code` says why: empty, unreadable, no_unit, unknown_unit, two_sides or zero."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.code = code


@dataclass(frozen=True, kw_only=True, slots=True)
class Size:
    """Two sides in whole millimetres, in the order they were typed."""

    width_mm: int
    depth_mm: int


def parse(text: str) -> Size:
    """Read "6 x 4 ft", "180 x 120 cm", "72 by 48 in", "6' x 4'", "6 ft 6 in x 4 ft" or "1800 x 1200 mm".

    A unit after the second side alone counts for both. Lengths are taken exactly and rounded once, half up, to
    whole millimetres.

    Raises:
        NotASize: with the reason as `code`.
    """
    typed = text.strip().lower()
    if not typed:
        raise NotASize("empty")
    if len(typed) > LONGEST_TEXT:
        raise NotASize("unreadable")
    sides = BETWEEN.split(typed)
    if len(sides) != 2:  # noqa: PLR2004 - a table has two sides
        raise NotASize("two_sides")
    first, second = (parts_of(side) for side in sides)
    shared = second[-1][1]
    if shared is None:
        raise NotASize("no_unit")
    width, depth = length_of(first, shared), length_of(second, None)
    if not width or not depth:
        raise NotASize("zero")
    return Size(width_mm=width, depth_mm=depth)


def parse_lengths(text: str) -> tuple[int, ...]:
    """Read "36 in", "1, 2, 3 and 4 in" or "6 x 4 ft" as whole millimetres, in the order they were typed.

    A unit after the last length counts for those before it that have none.

    Raises:
        NotASize: with the reason as `code`.
    """
    typed = text.strip().lower()
    if not typed:
        raise NotASize("empty")
    if len(typed) > LONGEST_LIST:
        raise NotASize("unreadable")
    listed = [parts_of(each) for each in LISTED.split(typed) if each]
    if not listed:
        raise NotASize("unreadable")
    lengths = tuple(length_of(parts, listed[-1][-1][1]) for parts in listed)
    if not all(lengths):
        raise NotASize("zero")
    return lengths


def lengths_as_text(lengths_mm: Sequence[int]) -> str:
    """Lengths side by side, each by the unit it was most likely cut by: "1 in, 2 in", "20 cm", "77 mm"."""
    return ", ".join(map(length_as_text, lengths_mm))


def length_as_text(length_mm: int) -> str:
    """What reads back as the same length: whole centimetres, else inches where it is these to the millimetre."""
    if length_mm % 10 == 0:
        return in_metric(length_mm)
    feet = in_feet(length_mm)
    try:
        is_exact = parse_lengths(feet) == (length_mm,)
    except NotASize:  # a millimetre is no tenth of an inch
        is_exact = False
    return feet if is_exact else f"{length_mm} mm"


def parts_of(side: str) -> list[tuple[Fraction, str | None]]:
    """The numbers of one side with their units: "6 ft 6 in" is two parts."""
    parts = []
    at = 0
    while at < len(side):
        match = PART.match(side, at)
        if match is None:
            raise NotASize("unreadable")
        unit = match[2]
        if unit is not None and unit not in SPELLINGS:
            raise NotASize("unknown_unit")
        parts.append((Fraction(match[1].replace(",", ".")), SPELLINGS[unit] if unit else None))
        at = match.end()
    if not parts:
        raise NotASize("two_sides")
    return parts


def length_of(parts: list[tuple[Fraction, str | None]], shared: str | None) -> int:
    """The parts together in whole millimetres. Only feet may be followed by inches."""
    if len(parts) == 1:
        number, unit = parts[0]
        name = unit or shared
        if name is None:
            raise NotASize("no_unit")
        return rounded(number * UNITS[name])
    if [unit for _number, unit in parts] != ["ft", "in"]:
        raise NotASize("unreadable")
    return rounded(sum((number * UNITS[unit or ""] for number, unit in parts), Fraction(0)))


def rounded(length: Fraction) -> int:
    """To whole millimetres, half up; lengths are never negative."""
    return int(length + Fraction(1, 2))


def in_feet(length_mm: int) -> str:
    """Feet and inches to a tenth of an inch: "6 ft", "4 ft 6 in", "30 in" below three feet."""
    tenths = rounded(length_mm * 10 / INCH)
    feet, rest = divmod(tenths, 120)
    if feet < 3 and rest:  # noqa: PLR2004 - small boards are called by their inches
        return f"{decimal(tenths)} in"
    if not rest:
        return f"{feet} ft"
    return f"{feet} ft {decimal(rest)} in"


def in_metric(length_mm: int) -> str:
    """Centimetres to the millimetre: "180 cm", "182.9 cm"."""
    return f"{decimal(length_mm)} cm"


def decimal(tenths: int) -> str:
    whole, tenth = divmod(tenths, 10)
    return f"{whole}.{tenth}" if tenth else str(whole)


def as_text(size: Size) -> str:
    """Both units, first the one it was most likely cut by: "6 ft x 4 ft (182.9 cm x 121.9 cm)", or where both sides are
    whole centimetres "180 cm x 120 cm (5 ft 10.9 in x 3 ft 11.2 in)"; with the multiplication sign."""
    feet = f"{in_feet(size.width_mm)} {TIMES} {in_feet(size.depth_mm)}"
    metric = f"{in_metric(size.width_mm)} {TIMES} {in_metric(size.depth_mm)}"
    if size.width_mm % 10 == 0 and size.depth_mm % 10 == 0:
        return f"{metric} ({feet})"
    return f"{feet} ({metric})"
