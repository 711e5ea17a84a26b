"""The draw of a round, in thousands of simulated seasons at once."""

from __future__ import annotations

import numpy as np

from .model import Flags, Ints


def paired(order: Ints, met: Flags, had_bye: Flags) -> tuple[list[Ints], list[Ints], Ints | None]:
    """Pairs everybody from the top, with the nearest below not met yet, or else the nearest.

    `order[s]` are the entrants of season s, best first; `met[s, a, b]` and `had_bye[s, a]` are brought up to date.
    Returns the firsts and the seconds of each pairing, and who has the bye (None for even numbers), all by season.
    The draw is not looked ahead: at the bottom somebody may be met again although another draw had avoided it.
    """
    seasons, size = order.shape
    season = np.arange(seasons)
    free = np.ones_like(order, dtype=np.bool_)
    byes = None
    if size % 2:
        without = ~np.take_along_axis(had_bye, order, axis=1)[:, ::-1]
        # Where all have had one, argmax of nothing is 0: the lowest has another.
        seat = size - 1 - np.argmax(without, axis=1)
        byes = order[season, seat]
        free[season, seat] = False
        had_bye[season, byes] = True
    firsts, seconds = [], []
    for _ in range(size // 2):
        top = np.argmax(free, axis=1)
        first = order[season, top]
        free[season, top] = False
        fresh = free & ~np.take_along_axis(met[season, first], order, axis=1)
        seat = np.where(fresh.any(axis=1), np.argmax(fresh, axis=1), np.argmax(free, axis=1))
        second = order[season, seat]
        free[season, seat] = False
        met[season, first, second] = met[season, second, first] = True
        firsts.append(first)
        seconds.append(second)
    return firsts, seconds, byes
