"""The random battle, reckoned exactly: the chance of every end.

A pure death process on the two numbers of figures (the stochastic form of Lanchester's laws; R. N. Snow, "Contributions
to Lanchester Attrition Theory", RAND, 1948, from memory). With i and j standing, the next to fall is the second's with
odds a i^e : b j^e, where e is 1 for the square and 0 for the linear law; when it falls does not matter here. As both
sides grow alike, the share lost converges to that of the law.
"""

from __future__ import annotations

import numpy as np

from league.engines.attrition.model import DEFAULT, Fit, Floats, Prospect, Side, Spread

__all__ = ["MOST_FIGURES", "prospect"]

MOST_FIGURES = 20_000
TAIL = 0.05


def prospect(first: Side, second: Side, *, exponent: float = 1.0, fit: Fit = DEFAULT, defender: int = 0) -> Prospect:
    """Every end of a battle with its chance. `exponent` is that of the ground's law, `defender` as `Fought` has it.

    Work grows with the product of what the sides can lose.

    Raises:
        ValueError: a side has more than `MOST_FIGURES` or no power.
    """
    for side in (first, second):
        if side.figures > MOST_FIGURES or side.power <= 0:
            raise ValueError(f"cannot reckon with {side.figures} figures of power {side.power}")
    odds = (first.power / second.power) ** fit.quality * float(np.exp(fit.defence * defender))
    wins, loses = _ends(first, second, max(0.0, exponent + fit.numbers), odds)
    nobody = 0.0 if wins.size or loses.size else 1.0
    return Prospect(
        first_wins=wins,
        second_wins=loses,
        nobody=nobody,
        first=_spread(np.append(wins, loses.sum())),
        second=_spread(np.append(loses, wins.sum())),
    )


def _ends(first: Side, second: Side, exponent: float, odds: float) -> tuple[Floats, Floats]:
    """The chances of the first's wins by its losses, and of the second's by its own."""
    most_x, most_y = first.to_lose, second.to_lose
    wins, loses = np.zeros(most_x), np.zeros(most_y)
    if most_x == 0 or most_y == 0:
        # Whoever cannot fight is beaten before it begins.
        wins[:1] = loses[:1] = 1.0
        return wins, loses
    fire = odds * (first.figures - np.arange(most_x, dtype=np.float64)) ** exponent
    answer = (second.figures - np.arange(most_y, dtype=np.float64)) ** exponent
    # `here[k]` is the chance to be at x = low + k figures lost by the first, and y = fallen - x by the second.
    low, here = 0, np.ones(1)
    for fallen in range(most_x + most_y - 1):
        x = np.arange(low, low + here.size)
        shot = fire[x]
        hit = here * shot / (shot + answer[fallen - x])
        after = np.append(hit, 0.0)
        after[1:] += here - hit
        # After one more has fallen: x from low to low + size. Those with x = most_x or y = most_y have ended.
        if low + after.size - 1 == most_x:
            loses[fallen + 1 - most_x] = after[-1]
            after = after[:-1]
        if after.size and fallen + 1 - low == most_y:
            wins[low] = after[0]
            after = after[1:]
            low += 1
        here = after
        if not here.size:
            break
    return wins, loses


def _spread(chances: Floats) -> Spread:
    """Of losses from 0 up, each with its chance."""
    total = chances.sum()
    if not total:
        return Spread(mean=0.0, deviation=0.0, low=0, high=0)
    losses = np.arange(chances.size)
    mean = float(losses @ chances / total)
    variance = float((losses - mean) ** 2 @ chances / total)
    edges = np.cumsum(chances) / total
    low, high = np.searchsorted(edges, [TAIL, 1 - TAIL])
    last = chances.size - 1
    return Spread(mean=mean, deviation=max(0.0, variance) ** 0.5, low=min(int(low), last), high=min(int(high), last))
