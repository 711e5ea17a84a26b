"""Kit as people write it in a message: one thing a line, "12 suppression markers, red, keep 2, in the red tin"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from league.engines.kit_text.model import Column, Row
from league.engines.kit_text.row import CONDITIONS
from league.engines.text import LINE_BREAK, clean

BULLET = re.compile(r"[-*\u2022\u2013]\s+")
COUNTED = re.compile(r"(-?[0-9]{1,9})\s*[x\u00d7]?\s+(.*)", re.IGNORECASE | re.DOTALL)
KEPT = re.compile(r"(?:keep|kept|i keep)\s+(-?[0-9]{1,9})", re.IGNORECASE)
SCALE = re.compile(r"[0-9]{1,9}\s*mm", re.IGNORECASE)
PLACE = re.compile(r"(?:in|at|on|under)\s+(.+)", re.IGNORECASE)


def rows_of(text: str) -> Iterator[Row]:
    """Each line that is not blank, taken apart."""
    for number, line in enumerate(LINE_BREAK.split(text), start=1):
        if line.strip():
            yield Row(line_number=number, text=line, cells=cells_of(line.strip()))


def cells_of(line: str) -> dict[Column, str]:
    """By what each part looks like; the first that looks like nothing else is the colour, what is left a note."""
    line = BULLET.sub("", line, count=1) if BULLET.match(line) else line
    first, *parts = [clean(part) for part in re.split(r"[,;\t]", line)]
    counted = COUNTED.fullmatch(first)
    cells: dict[Column, str] = {"count": counted[1], "kind": counted[2]} if counted else {"kind": first}
    rest: list[str] = []
    for part in parts:
        kept, place = KEPT.fullmatch(part), PLACE.fullmatch(part)
        if kept:
            cells["kept"] = kept[1]
        elif SCALE.fullmatch(part):
            cells["scale"] = part
        elif part.casefold() in CONDITIONS:
            cells["condition"] = part
        elif place:
            cells["place"] = place[1]
        elif part:
            rest.append(part)
    if rest:
        cells["colour"], *notes = rest
        cells["note"] = "; ".join(notes)
    return cells
