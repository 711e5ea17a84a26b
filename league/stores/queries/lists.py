"""What comes out of a night's plan: a packing list for each who brings something, a list for each table, what is short."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from league.engines.kit.needs import Asked
from league.engines.kit.plan import Line, Shortfall
from league.stores.models import Promise
from league.stores.queries.plan import NightPlan
from league.stores.queries.supplies import AtHand, supply_key
from league.stores.queries.tonight import TableTonight

__all__ = [
    "ForTable",
    "Met",
    "PackLine",
    "PackingList",
    "Short",
    "TableList",
    "packing_lists",
    "shortfalls",
    "table_lists",
]


@dataclass(frozen=True, kw_only=True, slots=True)
class ForTable:
    """Pieces of a packing line meant for one table, and why they come from here."""

    table: TableTonight
    count: int
    reasons: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class PackLine:
    """One thing to pack. `count` is what the plan asks, 0 for what is promised and not needed; `promise` stands if it
    was promised, with as many or others; a line without one is what the plan would ask."""

    at_hand: AtHand | None
    name: str
    count: int
    bulk_ml: int
    tables: tuple[ForTable, ...]
    promise: Promise | None

    @property
    def is_packed(self) -> bool:
        return self.promise is not None and self.promise.packed_at is not None

    @property
    def games(self) -> dict[int, int]:
        """How many are for which game, by its id, as a promise tells it."""
        return {each.table.game.pk: each.count for each in self.tables}


@dataclass(frozen=True, kw_only=True, slots=True)
class PackingList:
    """What one member brings. `carries_most_ml` None: they did not say."""

    member: int
    name: str
    lines: tuple[PackLine, ...]
    carries_most_ml: int | None

    @property
    def bulk_ml(self) -> int:
        return sum(line.bulk_ml for line in self.lines)


@dataclass(frozen=True, kw_only=True, slots=True)
class Met:
    """How one demand of a table is met: lines of the plan that serve it, and what is missing."""

    asked: Asked
    lines: tuple[Line, ...]
    missing: int


@dataclass(frozen=True, kw_only=True, slots=True)
class TableList:
    table: TableTonight
    met: tuple[Met, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Short:
    """A shortfall with its table and what the ruleset says of having it made: print, make, or empty."""

    table: TableTonight
    asked: Asked
    shortfall: Shortfall

    @property
    def make(self) -> str:
        return self.asked.make


def packing_lists(planned: NightPlan) -> tuple[PackingList, ...]:
    """One list for each who is asked to bring something or has promised to, by name."""
    tables = {table.key: table for table in planned.tables}
    at_hand = {each.key: each for each in planned.at_hand}
    by_holding: defaultdict[tuple[int, str], list[Line]] = defaultdict(list)
    for line in planned.plan.lines:
        if line.carrier is not None:
            by_holding[int(line.carrier), line.supply].append(line)
    promised = {(each.member_id, supply_key(each.holding_id, each.loan_id)): each for each in planned.promises}
    lines: defaultdict[int, list[PackLine]] = defaultdict(list)
    for member, key in sorted({*by_holding, *promised}):
        found = by_holding.get((member, key), [])
        lines[member].append(pack_line(at_hand.get(key), found, promised.get((member, key)), tables))
    names = {int(each.key): each for each in planned.carriers}
    people = {each.member_id: each.member.name for each in planned.promises}
    lists = (
        PackingList(
            member=member,
            name=names[member].name if member in names else people[member],
            lines=tuple(sorted(found, key=lambda line: line.name)),
            carries_most_ml=names[member].carries_most_ml if member in names else None,
        )
        for member, found in lines.items()
    )
    return tuple(sorted(lists, key=lambda each: (each.name.casefold(), each.member)))


def pack_line(
    at_hand: AtHand | None, lines: Iterable[Line], promise: Promise | None, tables: dict[str, TableTonight]
) -> PackLine:
    lines = list(lines)
    counts: defaultdict[str, int] = defaultdict(int)
    reasons: defaultdict[str, list[str]] = defaultdict(list)
    for line in lines:
        counts[line.table] += line.count
        reasons[line.table] += [reason.words for reason in line.reasons]
    count = sum(counts.values())
    kind = at_hand.holding.kind if at_hand else promise.holding.kind if promise else None
    pieces = max(count, promise.count if promise else 0)
    return PackLine(
        at_hand=at_hand,
        name=at_hand.supply.name if at_hand else kind.name if kind else "",
        count=count,
        bulk_ml=pieces * (kind.bulk_ml if kind else 0),
        tables=tuple(
            ForTable(table=tables[key], count=pieces, reasons=tuple(dict.fromkeys(reasons[key])))
            for key, pieces in counts.items()
        ),
        promise=promise,
    )


def table_lists(planned: NightPlan) -> tuple[TableList, ...]:
    """What lies on each table, demand by demand, in the ruleset's order."""
    serving: defaultdict[str, list[Line]] = defaultdict(list)
    for line in planned.plan.lines:
        for demand, _covers in line.use.covers:
            serving[demand].append(line)
    missing = {each.demand: each.missing for each in planned.plan.shortfalls}
    return tuple(
        TableList(
            table=table,
            met=tuple(
                Met(asked=each, lines=tuple(serving[each.demand.key]), missing=missing.get(each.demand.key, 0))
                for each in table.asked
            ),
        )
        for table in planned.tables
    )


def shortfalls(planned: NightPlan) -> tuple[Short, ...]:
    """What is missing, the most important first, then table by table."""
    short = {each.demand: each for each in planned.plan.shortfalls}
    found = [
        Short(table=table, asked=each, shortfall=short[each.demand.key])
        for table in planned.tables
        for each in table.asked
        if each.demand.key in short
    ]
    order = {"needed": 0, "wanted": 1, "pleasant": 2}
    return tuple(sorted(found, key=lambda each: order[each.shortfall.importance]))
