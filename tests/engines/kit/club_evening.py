"""Whole evenings at random as a club would have them: everybody has dice, few have mats, tokens come in colours.

The counts are invented, in the range of what people of the trade say they use (common practice, no source).
"""

from __future__ import annotations

import random
from collections.abc import Iterator

from league.engines.kit.model import Apart, Carrier, Demand, Importance, Night, Supply, Use

COLOURS = ("red", "blue", "green", "yellow", "black", "white", "orange", "violet")
STATUSES = ("smoke", "fire", "pinned", "wounded", "hidden", "objective", "mine", "order")
SCALES = ("15", "20", "28")
SCENERY = {"hill": 3000, "wood": 4000, "wall": 200, "house": 5000, "fence": 150, "river": 1500, "road": 800}

# Of a hundred people, how many have the thing, and how many pieces those have; millilitres a piece.
OWNED: dict[str, tuple[int, tuple[int, int], int]] = {
    "d6": (100, (12, 40), 5),
    "d10": (35, (4, 12), 5),
    "d12": (15, (4, 10), 6),
    **{f"wooden token {colour}": (12, (10, 20), 2) for colour in COLOURS},
    **{f"plastic token {colour}": (8, (8, 20), 2) for colour in COLOURS},
    "chip": (10, (20, 60), 6),
    "suppression ring": (35, (10, 30), 1),
    "suppression puff": (20, (8, 20), 3),
    **{f"marker {status}": (18, (4, 16), 2) for status in STATUSES},
    "loose counter": (25, (10, 40), 1),
    **{f"template {inch}": (16, (1, 2), 10 * inch) for inch in (1, 2, 3, 4)},
    "nested template": (14, (1, 1), 45),
    "ruler 36": (30, (1, 2), 60),
    "tape": (45, (1, 2), 90),
    "bag": (30, (1, 3), 150),
    "cup": (20, (1, 4), 300),
    "mat 6 x 4": (9, (1, 1), 9000),
    "mat 4 x 4": (7, (1, 1), 6000),
    "cloth": (15, (1, 1), 3000),
    **{f"{name} {scale}": (9, (2, 8), bulk) for name, bulk in SCENERY.items() for scale in SCALES},
    "book": (30, (2, 6), 800),
}
AT_THE_VENUE = {"book": 10, "cup": 6, "cloth": 2, "tape": 2}


def evening(seed: int, *, tables: int, people: int, plenty: float = 1.0, apart: bool = True) -> Night:
    """`plenty` raises or lowers how many people own a thing; `apart`: whether the sides' tokens must differ."""
    dice = random.Random(seed)
    names = [f"table {each + 1:03}" for each in range(tables)]
    demands: list[Demand] = []
    uses: list[Use] = []
    sets: list[Apart] = []
    for table in names:
        _table(dice, table, demands, uses)
        if apart:
            sets.append(Apart(table=table, demands=(f"{table} tokens A", f"{table} tokens B")))
    carriers = []
    supplies = [
        Supply(key=f"venue {good}", good=good, name=good, count=count, carrier=None)
        for good, count in AT_THE_VENUE.items()
    ]
    for number in range(people):
        plays = (names[number // 2],) if number < 2 * tables else ()
        key = f"person {number + 1:03}"
        most = dice.choice((None, None, 5000, 15_000, 40_000))
        carriers.append(Carrier(key=key, name=key.title(), tables=plays, carries_most_ml=most))
        supplies += _owned(dice, key, plenty)
    return Night(
        demands=tuple(demands), uses=tuple(uses), supplies=tuple(supplies), carriers=tuple(carriers), apart=tuple(sets)
    )


def _owned(dice: random.Random, key: str, plenty: float) -> Iterator[Supply]:
    for good, (share, (least, most), bulk) in OWNED.items():
        if dice.random() * 100 < share * plenty:
            count = dice.randint(least, most)
            yield Supply(key=f"{key} {good}", good=good, name=good, count=count, carrier=key, bulk_ml=bulk)


def _table(dice: random.Random, table: str, demands: list[Demand], uses: list[Use]) -> None:
    scale = dice.choice(SCALES)

    def ask(name: str, count: int, importance: Importance, *serving: tuple[str, int, int]) -> None:
        key = f"{table} {name}"
        demands.append(Demand(key=key, table=table, name=name, count=count, importance=importance))
        for good, rank, loss in serving:
            look = good.split()[-1] if " token " in good else ""
            uses.append(Use(table=table, good=good, covers=((key, 1),), rank=rank, loss=loss, look=look))

    tokens = [(f"{made} token {colour}", 0, 0) for made in ("wooden", "plastic") for colour in COLOURS]
    ask("d6", dice.randint(18, 36), "needed", ("d6", 0, 0))
    for side in "AB":
        ask(f"tokens {side}", dice.randint(7, 16), "needed", *tokens, ("d10", 1, 1), ("d12", 1, 2), ("chip", 2, 0))
    ask(
        "suppression",
        dice.randint(8, 20),
        "needed",
        ("suppression ring", 0, 0),
        ("suppression puff", 0, 1),
        ("loose counter", 1, 0),
        ("d6", 1, 3),
    )
    for status in dice.sample(STATUSES, 3):
        ask(status, dice.randint(2, 8), "wanted", (f"marker {status}", 0, 0), ("loose counter", 1, 1))
    sizes = sorted(dice.sample((1, 2, 3, 4), dice.randint(1, 4)))
    for inch in sizes:
        ask(f"blast {inch}", 1, "needed", (f"template {inch}", 0, 0))
    uses.append(Use(table=table, good="nested template", covers=tuple((f"{table} blast {inch}", 1) for inch in sizes)))
    ask("measure", 2, "needed", ("tape", 0, 0), ("ruler 36", 0, 0))
    ask("bag", 1, "needed", ("bag", 0, 0), ("cup", 1, 0))
    mat = dice.choice(("mat 6 x 4", "mat 4 x 4"))
    ask("mat", 1, "wanted", (mat, 0, 0), ("cloth", 1, 0))
    for name in dice.sample(list(SCENERY), 4):
        importance: Importance = dice.choice(("wanted", "pleasant"))
        others = [(f"{name} {other}", 2, 1) for other in SCALES if other != scale]
        book = [("book", 1, 2)] if name == "hill" else []
        ask(name, dice.randint(2, 5), importance, (f"{name} {scale}", 0, 0), *others, *book)
