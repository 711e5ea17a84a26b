"""Nights at random, tiny ones for full enumeration and whole evenings as a club would have them."""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import product
from typing import TypeVar

from league.engines.kit.model import Apart, Carrier, Demand, Night, Packed, Supply, Use
from league.engines.kit.plan import DEFAULT_ORDER, Criterion

T = TypeVar("T")
IMPORTANCES = ("needed", "wanted", "pleasant")


def tiny(dice: random.Random) -> Night:
    """A night small enough to try every plan there is, with everything in it that a night can have."""
    tables = [f"t{each}" for each in range(dice.randint(1, 2))]
    goods = [f"g{each}" for each in range(dice.randint(1, 3))]
    demands = tuple(
        Demand(
            key=f"d{each}",
            table=dice.choice(tables),
            name=f"need {each}",
            count=dice.randint(0, 3),
            importance=dice.choice(IMPORTANCES),
        )
        for each in range(dice.randint(1, 3))
    )
    by_table = {table: [demand.key for demand in demands if demand.table == table] for table in tables}
    uses = []
    for _ in range(dice.randint(1, 4)):
        table = dice.choice([table for table in tables if by_table[table]])
        covered = dice.sample(by_table[table], dice.randint(1, min(2, len(by_table[table]))))
        uses.append(
            Use(
                table=table,
                good=dice.choice(goods),
                covers=tuple((key, dice.choice((1, 1, 2))) for key in covered),
                takes=dice.choice((1, 1, 1, 2)),
                rank=dice.choice((0, 0, 1, 2)),
                loss=dice.choice((0, 0, 1, 3)),
                look=dice.choice(("", "", "red")),
            )
        )
    carriers = tuple(
        Carrier(
            key=f"c{each}",
            name=f"Carrier {each}",
            tables=tuple(dice.sample(tables, dice.randint(0, 1))),
            carries_most_ml=dice.choice((None, 0, 3, 5)),
            has_packed=dice.random() < 0.4,
        )
        for each in range(dice.randint(1, 3))
    )
    supplies = tuple(
        Supply(
            key=f"s{each}",
            good=dice.choice(goods),
            name=f"supply {each}",
            count=dice.randint(0, 2),
            carrier=dice.choice((None, *(carrier.key for carrier in carriers), *(carrier.key for carrier in carriers))),
            bulk_ml=dice.randint(0, 4),
        )
        for each in range(dice.randint(1, 4))
    )
    apart = tuple(
        Apart(table=table, demands=tuple(keys))
        for table, keys in by_table.items()
        if len(keys) > 1 and dice.random() < 0.6
    )
    packed = tuple(
        Packed(supply=dice.choice(["s0", "s1", "s9"]), table=dice.choice(tables), count=dice.randint(0, 2))
        for _ in range(dice.randint(0, 2))
    )
    return Night(demands=demands, uses=tuple(uses), supplies=supplies, carriers=carriers, apart=apart, packed=packed)


def best_by_trying(night: Night, criteria: Iterable[Criterion]) -> tuple[int, ...]:
    """The least costs, level by level, of all plans there are: every split of every supply over every use is tried."""
    uses = list(dict.fromkeys(night.uses))
    best = None
    for split in product(*(list(splits(supply, uses)) for supply in night.supplies)):
        pieces = [sum(row[at] for row in split) for at in range(len(uses))]
        if any(count % use.takes for count, use in zip(pieces, uses, strict=True)):
            continue
        times = [count // use.takes for count, use in zip(pieces, uses, strict=True)]
        if looks_clash(night, uses, times):
            continue
        cost = tuple(value for name in criteria for value in costs(night, uses, times, split)[name])
        if best is None or cost < best:
            best = cost
    assert best is not None
    return best


def splits(supply: Supply, uses: list[Use]) -> Iterator[tuple[int, ...]]:
    limits = [supply.count if use.good == supply.good else 0 for use in uses]
    for row in product(*(range(limit + 1) for limit in limits)):
        if sum(row) <= supply.count:
            yield row


def looks_clash(night: Night, uses: list[Use], times: list[int]) -> bool:
    for apart in night.apart:
        seen: set[tuple[str, str]] = set()
        for use, count in zip(uses, times, strict=True):
            if count:
                seen |= {(use.look or use.good, key) for key, _ in use.covers if key in apart.demands}
        if len({look for look, _ in seen}) < len(seen):
            return True
    return False


def costs(
    night: Night, uses: list[Use], times: list[int], split: Iterable[tuple[int, ...]]
) -> dict[str, tuple[int, ...]]:
    split = list(split)
    people = {carrier.key: carrier for carrier in night.carriers}
    missing = dict.fromkeys(IMPORTANCES, 0)
    for demand in night.demands:
        met = sum(dict(use.covers).get(demand.key, 0) * count for use, count in zip(uses, times, strict=True))
        missing[demand.importance] += max(0, demand.count - met)
    away = changes = lines = excess = 0
    bringing = set()
    for carrier in night.carriers:
        bulk = 0
        for supply, row in zip(night.supplies, split, strict=True):
            if supply.carrier != carrier.key:
                continue
            bulk += supply.bulk_ml * sum(row)
            if sum(row):
                lines += 1
                bringing.add(carrier.key)
            away += sum(count for use, count in zip(uses, row, strict=True) if use.table not in carrier.tables)
            if carrier.has_packed:
                for table in {use.table for use in uses} | {each.table for each in night.packed}:
                    now = sum(count for use, count in zip(uses, row, strict=True) if use.table == table)
                    before = sum(p.count for p in night.packed if (p.supply, p.table) == (supply.key, table))
                    changes += abs(now - before)
        if carrier.carries_most_ml is not None:
            excess += max(0, bulk - people[carrier.key].carries_most_ml)
    return {
        "shortfall": (missing["needed"], missing["wanted"], missing["pleasant"]),
        "stand_ins": (
            sum(use.rank * count for use, count in zip(uses, times, strict=True)),
            sum(use.loss * count for use, count in zip(uses, times, strict=True)),
        ),
        "changes": (changes,),
        "own_table": (away,),
        "carriers": (len(bringing),),
        "lines": (lines,),
        "capacity": (excess,),
        "pieces": (sum(map(sum, split)),),
    }


def orders(dice: random.Random) -> list[Criterion]:
    """The usual order, or any other."""
    order = list(DEFAULT_ORDER)
    if dice.random() < 0.5:
        order.remove("pieces")
        dice.shuffle(order)
        order.append("pieces")
    return order


def shuffled(night: Night, dice: random.Random) -> Night:
    """The same night in another order."""

    def mixed(things: Iterable[T]) -> tuple[T, ...]:
        things = list(things)
        dice.shuffle(things)
        return tuple(things)

    return Night(
        demands=mixed(night.demands),
        uses=mixed(replace(use, covers=mixed(use.covers)) for use in night.uses),
        supplies=mixed(night.supplies),
        carriers=mixed(replace(carrier, tables=mixed(carrier.tables)) for carrier in night.carriers),
        apart=mixed(replace(apart, demands=mixed(apart.demands)) for apart in night.apart),
        packed=mixed(night.packed),
    )
