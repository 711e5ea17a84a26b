"""What a ruleset asks of the kit box: needs, and what may stand in for what is missing.

A thing is told by what it is, not by a club's row, because rulesets travel between clubs. Lengths are whole
millimetres; counts are whole pieces. Whether a piece fits is for `league.engines.kit.items` to say.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = [
    "CATEGORIES",
    "IMPORTANCES",
    "MAKES",
    "PERS",
    "SHARINGS",
    "Category",
    "Extra",
    "Importance",
    "Kit",
    "Make",
    "Need",
    "Per",
    "Sharing",
    "StandIn",
    "Wanted",
]

Category = Literal[
    "die", "token", "marker", "template", "ruler", "bag", "mat", "scenery", "paper", "consumable", "other"
]
Per = Literal["table", "side", "unit", "figure", "gear", "pool", "markers"]
# From what a game cannot do without to what is merely pleasant.
Importance = Literal["needed", "wanted", "pleasant"]
# Each side its own; its own and told apart from the other sides' by colour; or one lot that the sides use in turn.
Sharing = Literal["own", "apart", "shared"]
# How it can be had without buying it: drawn on paper, or made by hand. Empty: not at all.
Make = Literal["", "print", "make"]

CATEGORIES: tuple[Category, ...] = (
    "die",
    "token",
    "marker",
    "template",
    "ruler",
    "bag",
    "mat",
    "scenery",
    "paper",
    "consumable",
    "other",
)
PERS: tuple[Per, ...] = ("table", "side", "unit", "figure", "gear", "pool", "markers")
IMPORTANCES: tuple[Importance, ...] = ("needed", "wanted", "pleasant")
SHARINGS: tuple[Sharing, ...] = ("own", "apart", "shared")
MAKES: tuple[Make, ...] = ("", "print", "make")


@dataclass(frozen=True, kw_only=True, slots=True)
class Wanted:
    """What is asked for; what is left empty may be anything.

    `use` is a short word for the purpose (activation, hill). `sides` are those of a die. `size_mm` is a template's
    diameter or a ruler's length; for what covers ground it is one side and `depth_mm` the other. `scale_mm` is how
    tall the figures beside it stand: a piece further from it than `scale_tolerance_mm` looks out of place.
    """

    category: Category
    use: str = ""
    sides: int | None = None
    size_mm: int | None = None
    depth_mm: int | None = None
    tolerance_mm: int = 1
    scale_mm: int | None = None
    scale_tolerance_mm: int = 0
    colour: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Extra:
    """Dice that a piece of gear adds to its unit's pool."""

    gear: str
    count: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Need:
    """One line of what a game asks for: `count` pieces for every `of` of what `per` counts, rounded up.

    `per` `table`: once; `side`: once a side; `unit`, `figure`: for each that counts; `gear`: for each piece of the
    gear named; `pool`: the dice that the one unit with the most throws at once, `count` for every `of` figures and
    the `extras` of its gear; `markers`: what is most likely in use at once, `count` for every `of` units until
    reports say better. Only units of `classes` and with one of the `gear` count (empty: all do); a need of a table or
    a side stands only if there is such a unit. `most` is enough in any case; `spare` comes on top of it. Empty
    `scenarios`: in all of them.
    """

    key: str
    name: str
    wanted: Wanted
    per: Per
    count: int = 1
    of: int = 1
    sharing: Sharing = "own"
    gear: tuple[str, ...] = ()
    extras: tuple[Extra, ...] = ()
    most: int | None = None
    spare: int = 0
    importance: Importance = "needed"
    make: Make = ""
    classes: tuple[str, ...] = ()
    scenarios: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class StandIn:
    """`takes` of `piece` stand for `covers` of what the need asks for.

    The lower the `rank`, the sooner it is taken; `loss` is what it costs the game among stand-ins of one rank.
    `at_home`: most households have one.
    """

    need: str
    piece: Wanted
    takes: int = 1
    covers: int = 1
    rank: int = 1
    loss: int = 0
    at_home: bool = False
    note: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Kit:
    """All a ruleset asks for. `scale_mm`: the figures it is played with, `scale_tolerance_mm` how much others differ."""

    scale_mm: int | None = None
    scale_tolerance_mm: int = 0
    needs: tuple[Need, ...] = ()
    stand_ins: tuple[StandIn, ...] = ()

    def need(self, key: str) -> Need | None:
        return next((each for each in self.needs if each.key == key), None)
