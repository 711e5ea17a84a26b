"""A night put into one order, whatever order it came in, and everything that is wrong with it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from league.engines.kit.model import Apart, Carrier, Demand, Night, Packed, Supply, Use

MOST: Final = 10_000  # pieces in one demand or holding, takes, covers, rank, loss: above this somebody mistyped
MOST_ML: Final = 1_000_000  # a cubic metre for one piece, or for what one person carries


class NightUnsound(ValueError):
    """The night contradicts itself or holds absurd numbers; `faults` has every fault, one sentence each."""

    def __init__(self, faults: Iterable[str]) -> None:
        self.faults = tuple(faults)
        super().__init__(" ".join(self.faults))


def in_order(night: Night) -> Night:
    """The same night with everything sorted, so that a plan does not depend on the order of what it is made from.

    Raises NightUnsound with all that is wrong.
    """
    faults = [*_faults(night)]
    if faults:
        raise NightUnsound(faults)
    return Night(
        demands=tuple(sorted(night.demands, key=lambda demand: demand.key)),
        uses=tuple(
            sorted(
                {replace(use, covers=tuple(sorted(use.covers))) for use in night.uses},
                key=lambda use: (use.table, use.covers, use.rank, use.loss, use.good, use.takes, use.look, use.note),
            )
        ),
        supplies=tuple(sorted(night.supplies, key=lambda supply: supply.key)),
        carriers=tuple(
            replace(carrier, tables=tuple(sorted(set(carrier.tables))))
            for carrier in sorted(night.carriers, key=lambda carrier: carrier.key)
        ),
        apart=tuple(
            sorted(
                {replace(apart, demands=tuple(sorted(set(apart.demands)))) for apart in night.apart},
                key=lambda apart: (apart.table, apart.demands),
            )
        ),
        packed=tuple(sorted(_added_up(night.packed), key=lambda packed: (packed.supply, packed.table))),
    )


def _added_up(packed: Iterable[Packed]) -> Iterator[Packed]:
    counts: Counter[tuple[str, str]] = Counter()
    for each in packed:
        counts[each.supply, each.table] += each.count
    return (Packed(supply=supply, table=table, count=count) for (supply, table), count in counts.items() if count)


def _faults(night: Night) -> Iterator[str]:
    tables = {demand.key: demand.table for demand in night.demands}
    people = {carrier.key for carrier in night.carriers}
    yield from _twice("demand", (demand.key for demand in night.demands))
    yield from _twice("holding", (supply.key for supply in night.supplies))
    yield from _twice("person", (carrier.key for carrier in night.carriers))
    for demand in night.demands:
        yield from _demand_faults(demand)
    for use in night.uses:
        yield from _use_faults(use, tables)
    for supply in night.supplies:
        yield from _supply_faults(supply, people)
    for carrier in night.carriers:
        yield from _carrier_faults(carrier)
    for apart in night.apart:
        yield from _apart_faults(apart, tables)
    for packed in night.packed:
        yield from _between(f"What was packed of “{packed.supply}”", packed.count, 0, MOST)


def _twice(what: str, keys: Iterable[str]) -> Iterator[str]:
    for key, count in Counter(keys).items():
        if count > 1:
            yield f"The {what} “{key}” is there {count} times."


def _between(what: str, count: int, least: int, most: int) -> Iterator[str]:
    if not least <= count <= most:
        yield f"{what} is {count}; it must be from {least} to {most}."


def _demand_faults(demand: Demand) -> Iterator[str]:
    yield from _between(f"The count of demand “{demand.key}”", demand.count, 0, MOST)
    if demand.importance not in {"needed", "wanted", "pleasant"}:
        yield f"Demand “{demand.key}” is “{demand.importance}”; it must be needed, wanted or pleasant."


def _use_faults(use: Use, tables: dict[str, str]) -> Iterator[str]:
    what = f"use of “{use.good}” at “{use.table}”"
    yield from _between(f"What a {what} takes", use.takes, 1, MOST)
    yield from _between(f"The rank of a {what}", use.rank, 0, MOST)
    yield from _between(f"The loss of a {what}", use.loss, 0, MOST)
    if not use.covers:
        yield f"A {what} covers nothing."
    yield from _twice(f"demand of a {what},", (key for key, _ in use.covers))
    for key, count in use.covers:
        yield from _between(f"What a {what} covers of “{key}”", count, 1, MOST)
        if tables.get(key) != use.table:
            yield f"A {what} covers “{key}”, which is no demand of that table."


def _supply_faults(supply: Supply, people: set[str]) -> Iterator[str]:
    yield from _between(f"The count of holding “{supply.key}”", supply.count, 0, MOST)
    yield from _between(f"The bulk of a piece of holding “{supply.key}”", supply.bulk_ml, 0, MOST_ML)
    if supply.carrier is not None and supply.carrier not in people:
        yield f"Holding “{supply.key}” is with “{supply.carrier}”, who is not coming."


def _carrier_faults(carrier: Carrier) -> Iterator[str]:
    if carrier.carries_most_ml is not None:
        yield from _between(f"What “{carrier.key}” can carry", carrier.carries_most_ml, 0, MOST_ML)


def _apart_faults(apart: Apart, tables: dict[str, str]) -> Iterator[str]:
    for key in apart.demands:
        if tables.get(key) != apart.table:
            yield f"“{key}” is to look different from others at “{apart.table}”, but is no demand of that table."
