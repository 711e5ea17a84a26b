"""Charts as SVG of our own: ink on paper in light, dark and print, with their figures in a table beside them.

Load with `{% load charts %}`. All sizes are presentation attributes, since the pages allow no inline style; lines and
text are drawn in `currentColor`, told apart by shape and not by hue.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Protocol

from django import template

register = template.Library()

WIDTH, HEIGHT = 480, 240
LEFT, RIGHT, TOP, BOTTOM = 60, 10, 14, 38
MOST_LINES = 6
MOST_MONTHS = 4
STEPS = (10, 20, 50, 100, 200, 500, 1000)
JANUARY_TO_DECEMBER = 12


class Step(Protocol):
    """A rating at the end of a month."""

    @property
    def month(self) -> date: ...
    @property
    def rating(self) -> float: ...
    @property
    def deviation(self) -> float: ...
    @property
    def games(self) -> int: ...


@dataclass(frozen=True, kw_only=True, slots=True)
class Mark:
    """A word on an axis, or a point of the line, and where it stands."""

    at: str
    words: Any
    anchor: str = "middle"


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawing:
    """A curve ready to be drawn: points as SVG has them, in units of its own view box.

    `whisker` stands for the band where there is one month only: where it is, from where, to where.
    """

    width: int
    height: int
    left: int
    right: int
    bottom: int
    line: str
    band: str
    dots: tuple[tuple[str, str], ...]
    whisker: tuple[str, str, str] | None
    levels: tuple[Mark, ...]
    months: tuple[Mark, ...]


@register.inclusion_tag("charts/rating.html")
def rating_chart(steps: Sequence[Step], name: str) -> dict[str, Any]:
    """A member's rating month by month, the deviation as a band around it: `{% rating_chart page.curve page.name %}`."""
    if not steps:
        return {"steps": ()}
    return {
        "name": name,
        "steps": steps,
        "first": steps[0],
        "last": steps[-1],
        "highest": max(steps, key=lambda step: step.rating),
        "drawing": drawing_of(steps),
    }


def drawing_of(steps: Sequence[Step]) -> Drawing:
    months = [JANUARY_TO_DECEMBER * step.month.year + step.month.month for step in steps]
    levels = levels_between(
        min(step.rating - step.deviation for step in steps), max(step.rating + step.deviation for step in steps)
    )
    span = max(1, months[-1] - months[0])

    def x(month: int) -> float:
        if months[-1] == months[0]:
            return (LEFT + WIDTH - RIGHT) / 2
        return LEFT + (WIDTH - LEFT - RIGHT) * (month - months[0]) / span

    def y(rating: float) -> float:
        return TOP + (HEIGHT - TOP - BOTTOM) * (levels[-1] - rating) / (levels[-1] - levels[0])

    places = [(x(month), step) for month, step in zip(months, steps, strict=True)]
    above_y, below_y = y(steps[0].rating + steps[0].deviation), y(steps[0].rating - steps[0].deviation)
    above = [point(at, y(step.rating + step.deviation)) for at, step in places]
    below = [point(at, y(step.rating - step.deviation)) for at, step in places]
    return Drawing(
        width=WIDTH,
        height=HEIGHT,
        left=LEFT,
        right=WIDTH - RIGHT,
        bottom=HEIGHT - BOTTOM,
        line=" ".join(point(at, y(step.rating)) for at, step in places),
        band=" ".join([*above, *reversed(below)]),
        dots=tuple((number(at), number(y(step.rating))) for at, step in places if step.games),
        whisker=(number(places[0][0]), number(above_y), number(below_y)) if len(steps) == 1 else None,
        levels=tuple(Mark(at=number(y(level)), words=level) for level in levels),
        months=tuple(month_marks(places)),
    )


def month_marks(places: Sequence[tuple[float, Step]]) -> list[Mark]:
    """The first month, the last, and some between at even distances."""
    every = max(1, math.ceil((len(places) - 1) / (MOST_MONTHS - 1)))
    kept = [*places[:-1:every], places[-1]]
    if len(kept) > 2 and kept[-1][0] - kept[-2][0] < (WIDTH - LEFT - RIGHT) / (MOST_MONTHS + 1):  # noqa: PLR2004 - first, last, and one too near
        del kept[-2]
    return [
        Mark(at=number(at), words=step.month, anchor="end" if step is places[-1][1] and len(places) > 1 else "middle")
        for at, step in kept
    ]


def levels_between(low: float, high: float) -> list[int]:
    """Round numbers that enclose both, few enough to be read."""
    for step in STEPS:
        bottom, top = math.floor(low / step) * step, math.ceil(high / step) * step
        levels = list(range(bottom, max(top, bottom + step) + 1, step))
        if len(levels) <= MOST_LINES:
            return levels
    return [levels[0], levels[-1]]


def point(x: float, y: float) -> str:
    return f"{number(x)},{number(y)}"


def number(value: float) -> str:
    """A coordinate: a point for the decimals whatever the reader's language."""
    return f"{value:.1f}"
