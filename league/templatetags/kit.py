"""What the pages of the kit may draw: a code for a phone's camera, and how likely a stock is enough.

Load with `{% load kit %}`. All sizes are presentation attributes, since the pages allow no inline style.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import segno
from django import template
from django.utils.safestring import SafeString, mark_safe

from league.templatetags.charts import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, Mark, number, point

register = template.Library()

QUARTERS = (0, 25, 50, 75, 100)
ROUND_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
MOST_MARKS = 6


class StockStep(Protocol):
    """A stock, and the chance that it is enough."""

    @property
    def stock(self) -> int: ...
    @property
    def chance(self) -> float: ...


@dataclass(frozen=True, kw_only=True, slots=True)
class StockDrawing:
    """The curve ready to be drawn, in units of its own view box; `wanted` is the chance asked for, `enough` the stock."""

    width: int
    height: int
    left: int
    right: int
    top: int
    bottom: int
    line: str
    levels: tuple[Mark, ...]
    stocks: tuple[Mark, ...]
    wanted_y: str
    enough: tuple[str, str] | None


@register.filter
def money(pence: int) -> str:
    """Whole pence as pounds: 1250 -> "£12.50"."""
    return f"£{pence // 100}.{pence % 100:02}"


@register.simple_tag
def qr(address: str) -> SafeString:
    """The address as a QR code (ISO/IEC 18004, error correction M) in SVG: no style, no script, hidden from ears."""
    code = segno.make(address, micro=False, error="m")
    drawn = code.svg_inline(border=4, omitsize=True, svgclass="qr-code", lineclass=None)
    return mark_safe(drawn.replace("<svg ", '<svg aria-hidden="true" ', 1))  # noqa: S308 - made of numbers only


@register.inclusion_tag("charts/stock.html")
def stock_chart(steps: Sequence[StockStep], enough: int, wanted_percent: int) -> dict[str, Any]:
    """How likely each stock is enough: `{% stock_chart curve.steps curve.enough 95 %}`."""
    if len(steps) < 2:  # noqa: PLR2004 - a line has two ends
        return {"steps": ()}
    return {
        "steps": told_steps(steps, enough),
        "enough": enough,
        "wanted": wanted_percent,
        "drawing": stock_drawing(steps, enough, wanted_percent),
    }


def told_steps(steps: Sequence[StockStep], enough: int, most: int = 24) -> list[dict[str, Any]]:
    """The figures beside the curve: evenly thinned, with the stock that is enough always among them."""
    every = -(-len(steps) // most)
    return [
        {"stock": step.stock, "percent": 100 * step.chance, "is_enough": step.stock == enough}
        for place, step in enumerate(steps)
        if place % every == 0 or step.stock == enough or place == len(steps) - 1
    ]


def stock_drawing(steps: Sequence[StockStep], enough: int, wanted_percent: int) -> StockDrawing:
    first, last = steps[0].stock, steps[-1].stock

    def x(stock: int) -> float:
        return LEFT + (WIDTH - LEFT - RIGHT) * (stock - first) / max(1, last - first)

    def y(percent: float) -> float:
        return TOP + (HEIGHT - TOP - BOTTOM) * (100 - percent) / 100

    return StockDrawing(
        width=WIDTH,
        height=HEIGHT,
        left=LEFT,
        right=WIDTH - RIGHT,
        top=TOP,
        bottom=HEIGHT - BOTTOM,
        line=" ".join(point(x(step.stock), y(100 * step.chance)) for step in steps),
        levels=tuple(Mark(at=number(y(percent)), words=percent) for percent in QUARTERS),
        stocks=tuple(Mark(at=number(x(stock)), words=stock) for stock in round_stocks(first, last)),
        wanted_y=number(y(wanted_percent)),
        enough=next(
            ((number(x(step.stock)), number(y(100 * step.chance))) for step in steps if step.stock == enough), None
        ),
    )


def round_stocks(first: int, last: int) -> list[int]:
    """Round numbers between the two, few enough to be read."""
    step = next((step for step in ROUND_STEPS if (last - first) / step <= MOST_MARKS), ROUND_STEPS[-1])
    return list(range(-(-first // step) * step, last + 1, step))
