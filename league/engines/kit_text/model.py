"""What comes out of a list of kit typed, pasted or sent as a file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final, Literal

from league.engines.rulesets import Violation
from league.engines.text import folded

Column = Literal["kind", "count", "colour", "scale", "condition", "kept", "place", "private", "note"]
Condition = Literal["good", "worn", "damaged"]

LINES_MOST: Final = 500
FIELD_LONGEST: Final = 200
PIECES_MOST: Final = 100_000
SCALE_MOST: Final = 200
LONGEST: Final[Mapping[Column, int]] = {"colour": 40, "place": 120, "note": 1_000}


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """A kind of the club's list, as it is called."""

    key: str
    name: str


@dataclass(frozen=True, kw_only=True, slots=True)
class ParsedPieces:
    """So many pieces of a kind, as read. `line_number` counts lines of text from 1, or items of a JSON list."""

    line_number: int = 0
    kind: str
    count: int
    colour: str = ""
    scale_mm: int | None = None
    condition: Condition = "good"
    kept: int = 0
    place: str = ""
    is_private: bool = False
    note: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class BadLine:
    """A line that cannot be read, shortened, with all that is wrong with it."""

    line_number: int
    text: str
    problems: tuple[Violation, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class ParsedKit:
    pieces: tuple[ParsedPieces, ...] = ()
    bad_lines: tuple[BadLine, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """Cells by column, as typed. `problems` were found while the row was taken apart."""

    line_number: int
    text: str
    cells: Mapping[Column, str]
    problems: tuple[Violation, ...] = ()


class Kinds:
    """The kinds of a club, found by key or by name, one piece or several."""

    def __init__(self, kinds: Iterable[Kind]) -> None:
        kinds = list(kinds)
        # A key is taken before a name that happens to read the same.
        self.known = {folded(each.name): each.key for each in kinds}
        self.known |= {folded(each.key): each.key for each in kinds}

    def key(self, text: str) -> str | None:
        asked = folded(text)
        return self.known.get(asked) or next((key for name, key in self.known.items() if is_plural(asked, name)), None)


def is_plural(several: str, one: str) -> bool:
    """Whether a name is another with the plural's ending."""
    if one.endswith("die"):
        return several == f"{one[:-3]}dice"
    endings = (f"{one}s", f"{one}es", f"{one[:-1]}ies" if one.endswith("y") else f"{one}s")
    return several in endings
