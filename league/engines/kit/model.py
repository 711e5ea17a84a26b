"""A night's kit as values: what the tables ask for, what may meet it, who has it, and the plan that comes of it.

Needs (`league.engines.kit.needs`) make the demands and the uses; the plan (`league.engines.kit.plan`) chooses among them.
All counts are whole pieces; bulk is whole millilitres; money is whole pence.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Apart", "Carrier", "Demand", "Importance", "Night", "Packed", "Supply", "Use"]

# From what a game cannot do without to what is merely pleasant.
Importance = Literal["needed", "wanted", "pleasant"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Demand:
    """`count` pieces of something that one table asks for; `why` are sentences for the table's list."""

    key: str
    table: str
    name: str
    count: int
    importance: Importance = "needed"
    why: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Use:
    """A way to meet demands of one table: `takes` pieces of `good` meet, each time, `covers` of each demand named.

    `covers` holds (demand key, pieces met); a nested template covers several sizes at once, one numbered die stands
    for one token, a card may stand for four markers. `rank` 0 is the thing itself, 1 and above a stand-in, the higher
    the worse; `loss` is what one such use costs the game among uses of equal rank. `look` is what the good is told apart by
    (its colour); empty: by being that very good.
    """

    table: str
    good: str
    covers: tuple[tuple[str, int], ...]
    takes: int = 1
    rank: int = 0
    loss: int = 0
    note: str = ""
    look: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Apart:
    """Demands of one table of which no two may be met by uses that look alike: two sides' tokens, told apart by colour.

    Two uses look alike when `look or good` is the same: red wooden and red plastic tokens are both just red.
    """

    table: str
    demands: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Carrier:
    """Somebody who comes. `carries_most_ml` None: no limit was given; `tables` are those they play at."""

    key: str
    name: str
    tables: tuple[str, ...] = ()
    carries_most_ml: int | None = None
    has_packed: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Supply:
    """`count` spare pieces of one good out of one holding. `carrier` None: it is at the venue already."""

    key: str
    good: str
    name: str
    count: int
    carrier: str | None
    bulk_ml: int = 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Packed:
    """What an earlier plan asked of a holding for a table; a new plan changes as little of it as it can."""

    supply: str
    table: str
    count: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Night:
    """Everything a plan is made from."""

    demands: tuple[Demand, ...]
    uses: tuple[Use, ...]
    supplies: tuple[Supply, ...]
    carriers: tuple[Carrier, ...]
    apart: tuple[Apart, ...] = ()
    packed: tuple[Packed, ...] = ()
