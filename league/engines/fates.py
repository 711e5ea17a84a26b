"""What becomes of those who fell: the table that answers for them, the dice it needs, and dice anyone can check.

The dice are never this module's own: players throw and type them in, or they are drawn from a seed that was fixed,
and its SHA-256 shown, before the battle (`seed_commitment`). Once the seed is told, anyone repeats the draw.
"""

from __future__ import annotations

import hashlib
import hmac
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from league.engines.rulesets import (
    CasualtyTable,
    DieReading,
    Outcome,
    Ruleset,
    Violation,
    die_reading,
    gettext_noop,
)

__all__ = [
    "DieReading",
    "RollsNeeded",
    "check_rolls",
    "die_reading",
    "draw_rolls",
    "fate_of",
    "rolls_needed",
    "seed_commitment",
]

SEED_BYTES = 32
DRAWN_DICE = range(2, 257)


@dataclass(frozen=True, kw_only=True, slots=True)
class RollsNeeded:
    """`count` dice of `sides` sides to be thrown; `table` answers them. No table: nothing to throw, all come back."""

    count: int
    sides: int
    table: CasualtyTable | None


def fate_of(table: CasualtyTable, roll: int) -> Outcome:
    """What `table` says to a roll as it shows on the thrown die. ValueError if that die has no such face."""
    return table.outcome_of(roll)


def rolls_needed(ruleset: Ruleset, *, unit_class: str, quality: str = "", figures_lost: int) -> RollsNeeded:
    """The dice for one unit's losses of one battle: one a figure, or one for them all, as its table says.

    A table for a die of two or three sides is thrown with a six-sided one (`DieReading`).
    """
    table = ruleset.table_for(unit_class, quality)
    if table is None:
        return RollsNeeded(count=0, sides=6, table=None)
    return RollsNeeded(count=table.rolls_for(figures_lost), sides=table.reading.thrown, table=table)


def check_rolls(needed: RollsNeeded, rolls: Sequence[int]) -> tuple[Violation, ...]:
    """What is wrong with dice typed in: too few, too many, faces the die has not. Empty: nothing."""
    return tuple(_wrong_rolls(needed, rolls))


def _wrong_rolls(needed: RollsNeeded, rolls: Sequence[int]) -> Iterator[Violation]:
    if len(rolls) != needed.count:
        words = gettext_noop("%(needed)s dice are wanted, not %(given)s.")
        args = {"needed": needed.count, "given": len(rolls)}
        yield Violation(code="wrong_number_of_rolls", message=words, args=args)
    for number, roll in enumerate(rolls, start=1):
        if not 1 <= roll <= needed.sides:
            words = gettext_noop("Die %(number)s: a die of %(sides)s sides does not show %(roll)s.")
            args = {"number": number, "sides": needed.sides, "roll": roll}
            yield Violation(code="no_such_face", message=words, args=args)


def seed_commitment(seed: bytes | str) -> str:
    """The SHA-256 of the seed, in hexadecimal: shown before the battle, it binds the site to its dice."""
    return hashlib.sha256(_seed(seed)).hexdigest()


def draw_rolls(seed: bytes | str, label: str, count: int, sides: int) -> tuple[int, ...]:
    """`count` dice of `sides` sides (2 to 256) from a seed of 32 bytes, or its 64 hexadecimal digits, and a label.

    The same seed and label always give the same dice, and more dice only add to them. Block n, counted from 0, is

        HMAC-SHA256(key=seed, message=UTF-8 of label + byte 0 + n as 8 bytes, big end first)

    (HMAC: RFC 2104; its use as a counter-mode generator follows the shape of NIST SP 800-108, from memory). The
    blocks' bytes are taken in order. A byte not below the greatest multiple of `sides` that fits in 256 is thrown
    away, so that each face is left with equally many bytes; any other byte b shows the face b mod sides + 1.

    ValueError: the seed has another length, the label holds a zero byte, the count is negative, or no such die.
    """
    if count < 0 or sides not in DRAWN_DICE:
        msg = f"{count} dice of {sides} sides cannot be drawn"
        raise ValueError(msg)
    fair = (byte for byte in _stream(_seed(seed), label) if byte < _fair_below(sides))
    return tuple(next(fair) % sides + 1 for _ in range(count))


def _fair_below(sides: int) -> int:
    return 256 - 256 % sides


def _seed(seed: bytes | str) -> bytes:
    raw = bytes.fromhex(seed) if isinstance(seed, str) else seed
    if len(raw) != SEED_BYTES:
        msg = f"a seed has {SEED_BYTES} bytes, not {len(raw)}"
        raise ValueError(msg)
    return raw


def _stream(seed: bytes, label: str) -> Iterator[int]:
    if "\0" in label:
        msg = "a label holds no zero byte, which ends it"
        raise ValueError(msg)
    block = 0
    while True:
        message = label.encode() + b"\0" + block.to_bytes(8, "big")
        yield from hmac.digest(seed, message, "sha256")
        block += 1
