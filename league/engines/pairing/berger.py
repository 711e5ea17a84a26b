"""Round robins by the Berger tables.

Source: FIDE Handbook C.05 annex 1. Round r of n players (n even): r odd, player (r+1)/2 has the first role against n;
r even, n has it against player r/2 + n/2. The other boards pair s+k (first role) with s-k, counted round n-1. With an
odd number of players the highest number of the table is the bye.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .model import BadRound

FEWEST = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class RobinRound:
    """`pairings` of ids, the first has the first role (attacks); `bye` sits out."""

    number: int
    pairings: tuple[tuple[str, str], ...]
    bye: str | None = None


def berger_table(players: int) -> tuple[tuple[tuple[int, int], ...], ...]:
    """Rounds of pairs of numbers from 1. An odd number gets the table of one more; who meets that number has the bye."""
    if players < FEWEST:
        raise BadRound((f"A round robin needs two entrants, not {players}.",))
    size = players + players % 2
    return tuple(tuple(_berger_round(size, number)) for number in range(1, size))


def round_robin(ids: Sequence[str], *, double: bool = False, exchange_last_two: bool = True) -> tuple[RobinRound, ...]:
    """All rounds for these entrants, numbered in the order given.

    `double` plays a second cycle with the roles reversed. The annex recommends that the last two rounds of the first
    cycle change places then, so that nobody has one role three times running; `exchange_last_two` says whether they do.
    """
    if len(set(ids)) < len(ids):
        raise BadRound(("An entrant is named twice.",))
    table = list(berger_table(len(ids)))
    if double:
        back = [tuple((second, first) for first, second in pairs) for pairs in table]
        if exchange_last_two and len(table) > 1:
            table[-2:] = reversed(table[-2:])
        table += back
    return tuple(_with_ids(number, pairs, ids) for number, pairs in enumerate(table, start=1))


def _berger_round(size: int, number: int) -> list[tuple[int, int]]:
    turning = size - 1
    middle = (number + 1) // 2 if number % 2 else number // 2 + size // 2
    board_one = (middle, size) if number % 2 else (size, middle)
    others = [((middle + step - 1) % turning + 1, (middle - step - 1) % turning + 1) for step in range(1, size // 2)]
    return [board_one, *others]


def _with_ids(number: int, pairs: Sequence[tuple[int, int]], ids: Sequence[str]) -> RobinRound:
    played = [pair for pair in pairs if max(pair) <= len(ids)]
    idle = [min(pair) for pair in pairs if max(pair) > len(ids)]
    return RobinRound(
        number=number,
        pairings=tuple((ids[first - 1], ids[second - 1]) for first, second in played),
        bye=ids[idle[0] - 1] if idle else None,
    )
