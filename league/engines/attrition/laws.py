"""Lanchester's laws: how two sides wear each other down when chance is left out.

One figure of the first puts `a` of the second out of action in a unit of time, one of the second `b` of the first.

* Square law (everybody can shoot at all): dA/dt = -b B, dB/dt = -a A, so a A^2 - b B^2 never changes.
* Linear law (man meets man, or fire into an area): dA/dt = -b A B, dB/dt = -a A B, so a A - b B never changes.

Both are the exponents 1 and 0 of one family, in which a A^(1 + e) - b B^(1 + e) never changes.
F. W. Lanchester, Aircraft in Warfare, 1916, chapters V and VI.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["Reinforcement", "course", "remaining", "survivors"]


def survivors(
    first: float, second: float, *, a: float = 1.0, b: float = 1.0, exponent: float = 1.0
) -> tuple[float, float]:
    """What is left of each when the other is gone: one of the two is 0, both when they are equals."""
    power = 1.0 + exponent
    balance = a * first**power - b * second**power
    if balance >= 0:
        return (balance / a) ** (1 / power), 0.0
    return 0.0, (-balance / b) ** (1 / power)


def remaining(
    first: float, second: float, second_left: float, *, a: float = 1.0, b: float = 1.0, exponent: float = 1.0
) -> float:
    """What is left of the first when the second has come down to `second_left`; 0 if it is gone before that."""
    power = 1.0 + exponent
    left = first**power - b / a * (second**power - second_left**power)
    return float(max(0.0, left) ** (1 / power))


@dataclass(frozen=True, kw_only=True, slots=True)
class Reinforcement:
    """The first is joined by `rate` figures in a unit of time from `begin` to `end`."""

    begin: float
    end: float
    rate: float


def course(
    first: float,
    second: float,
    *,
    a: float,
    b: float,
    times: Sequence[float],
    reinforcements: Sequence[Reinforcement] = (),
) -> list[tuple[float, float]]:
    """Both sides at each of the `times` (from 0, in order) under the square law: dA/dt = r(t) - b B, dB/dt = -a A.

    Solved exactly from one change of the reinforcements to the next, not in small steps. Who is gone stays gone, but
    this is told only at the `times` themselves and where reinforcements change.
    """
    changes = {edge for each in reinforcements for edge in (each.begin, each.end)}
    stops = sorted({*times, *changes})
    at, now = (first, second), 0.0
    found = {}
    for stop in stops:
        middle = (now + stop) / 2
        rate = sum(each.rate for each in reinforcements if each.begin <= middle < each.end)
        at = _piece(*at, a=a, b=b, rate=rate, span=stop - now)
        at = (max(0.0, at[0]), max(0.0, at[1]))
        now = stop
        found[stop] = at
    return [found[each] for each in times]


def _piece(first: float, second: float, *, a: float, b: float, rate: float, span: float) -> tuple[float, float]:
    """With A'' = a b A and B standing still at rate / b: the hyperbolic functions around that point."""
    if first <= 0 and rate <= 0:
        return 0.0, second
    if second <= 0:
        return first + rate * span, 0.0
    pace = math.sqrt(a * b)
    shifted = second - rate / b
    cosh, sinh = math.cosh(pace * span), math.sinh(pace * span)
    return (
        first * cosh - shifted * math.sqrt(b / a) * sinh,
        rate / b + shifted * cosh - first * math.sqrt(a / b) * sinh,
    )
