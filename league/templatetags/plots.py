"""Several lines over turns as SVG, told apart by dashes and marks, each named at its end; the figures in a table."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Protocol

from django import template

from league.templatetags.charts import BOTTOM, HEIGHT, LEFT, TOP, WIDTH, Mark, levels_between, number, point

register = template.Library()

NAMES = 170  # room for the names at the lines' ends
LONGEST = 16  # letters of a name that fit there; the table has it whole
STYLES = 6  # dash patterns of charts.css
LETTER = 20  # of a name, the room it needs from line to line
MOST_TURNS = 8


class Series(Protocol):
    @property
    def name(self) -> str: ...
    @property
    def values(self) -> Sequence[int | None]: ...


class Plot(Protocol):
    @property
    def key(self) -> str: ...
    @property
    def title(self) -> str: ...
    @property
    def turns(self) -> Sequence[int]: ...
    @property
    def series(self) -> Sequence[Series]: ...


@dataclass(frozen=True, kw_only=True, slots=True)
class DrawnLine:
    """`parts` are runs of points without a gap; `label_y` where its name stands."""

    name: str
    style: int
    parts: tuple[str, ...]
    dots: tuple[tuple[str, str], ...]
    label_x: str
    label_y: str
    last: int


@register.inclusion_tag("charts/plot.html")
def turn_plot(plot: Plot) -> dict[str, Any]:
    """A plot of whole numbers by turn: `{% turn_plot plot %}`."""
    known = [value for each in plot.series for value in each.values if value is not None]
    levels = levels_between(min(0, *known), max(1, *known))
    right = WIDTH - NAMES
    span = max(1, len(plot.turns) - 1)

    def x(place: int) -> float:
        return LEFT + (right - LEFT) * place / span

    def y(value: float) -> float:
        return TOP + (HEIGHT - TOP - BOTTOM) * (levels[-1] - value) / (levels[-1] - levels[0])

    lines = [_line(each, style, x, y) for style, each in enumerate(plot.series, start=1)]
    every = max(1, len(plot.turns) // MOST_TURNS)
    return {
        "plot": plot,
        "lines": _apart([each for each in lines if each.parts]),
        "levels": [Mark(at=number(y(level)), words=level) for level in levels],
        "turns": [Mark(at=number(x(place)), words=turn) for place, turn in enumerate(plot.turns) if place % every == 0],
        "rows": [(turn, [each.values[place] for each in plot.series]) for place, turn in enumerate(plot.turns)],
        "width": WIDTH,
        "height": HEIGHT,
        "left": LEFT,
        "right": right,
        "bottom": HEIGHT - BOTTOM,
    }


def _line(series: Series, style: int, x: Callable[[int], float], y: Callable[[float], float]) -> DrawnLine:
    parts: list[list[str]] = [[]]
    dots, last = [], 0
    for place, value in enumerate(series.values):
        if value is None:
            parts.append([])
            continue
        parts[-1].append(point(x(place), y(value)))
        dots.append((number(x(place)), number(y(value))))
        last = value
    ends = dots[-1] if dots else ("0", "0")
    return DrawnLine(
        name=series.name if len(series.name) <= LONGEST else f"{series.name[: LONGEST - 1].rstrip()}…",
        style=(style - 1) % STYLES + 1,
        parts=tuple(" ".join(part) for part in parts if part),
        dots=tuple(dots),
        label_x=number(float(ends[0]) + 10),
        label_y=ends[1],
        last=last,
    )


def _apart(lines: list[DrawnLine]) -> list[DrawnLine]:
    """The names at the ends, moved so that none stands on another."""
    placed: list[DrawnLine] = []
    floor = 0.0
    for each in sorted(lines, key=lambda line: float(line.label_y)):
        at = max(float(each.label_y), floor)
        placed.append(replace(each, label_y=number(at)))
        floor = at + LETTER
    return sorted(placed, key=lambda line: line.style)
