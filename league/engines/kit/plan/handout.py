"""Which pieces of which holding go to which use at which table, from the numbers of the programme."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator

from .facts import Facts
from .layout import Layout
from .model import Line, Served
from .program import Ints

Heap = dict[str, int]


def served_of(layout: Layout, point: Ints) -> tuple[Served, ...]:
    uses = layout.facts.night.uses
    return tuple(
        Served(use=use, times=int(point[column]))
        for use, column in zip(uses, layout.times, strict=True)
        if point[column]
    )


def lines_of(layout: Layout, point: Ints) -> tuple[Line, ...]:
    """First what goes straight from a holding to a table, then the rest: the largest heap to the largest need, so that
    few holdings are split. Within a table the best uses come first. The programme must have reached the hands.
    """
    facts = layout.facts
    needs: defaultdict[str, Counter[str]] = defaultdict(Counter)
    for use, column in zip(facts.night.uses, layout.times, strict=True):
        needs[use.good][use.table] += use.takes * int(point[column])
    given: Counter[tuple[int, str]] = Counter()
    for columns in (layout.kept, layout.own):
        for key, column in columns.items():
            given[key] += int(point[column])
    left = {at: int(point[column]) for at, column in enumerate(layout.taken)}
    for (at, table), count in given.items():
        left[at] -= count
        needs[facts.night.supplies[at].good][table] -= count
    for good, tables in needs.items():
        heaps = {at: left[at] for at in facts.supplies_of.get(good, ())}
        for at, table, count in _matched(heaps, tables):
            given[at, table] += count
    return tuple(_lines(facts, layout, point, given))


def _matched(heaps: dict[int, int], needs: Counter[str]) -> Iterator[tuple[int, str, int]]:
    """Equal heaps and needs together, then from the largest to the smallest; both add up to the same."""
    by_size: defaultdict[int, list[int]] = defaultdict(list)
    for at, count in sorted(heaps.items(), reverse=True):
        by_size[count].append(at)
    heaps, needs = dict(heaps), needs.copy()
    for table, count in sorted(needs.items()):
        if count and by_size[count]:
            at = by_size[count].pop()
            yield at, table, count
            heaps[at] = needs[table] = 0
    waiting = sorted(((count, table) for table, count in needs.items() if count), key=lambda each: (-each[0], each[1]))
    for at, heap in sorted(heaps.items(), key=lambda each: (-each[1], each[0])):
        left = heap
        while left and waiting:
            count, table = waiting.pop(0)
            some = min(left, count)
            left -= some
            yield at, table, some
            if count > some:
                waiting.insert(0, (count - some, table))


def _lines(facts: Facts, layout: Layout, point: Ints, given: Counter[tuple[int, str]]) -> Iterator[Line]:
    wanted = {
        (table, good): [[use, facts.night.uses[use].takes * int(point[layout.times[use]])] for use in uses]
        for (table, good), uses in facts.uses_of.items()
    }
    for (at, table), count in sorted(given.items(), key=lambda each: _first(facts, *each[0])):
        supply, left = facts.night.supplies[at], count
        for need in wanted.get((table, supply.good), ()):
            some = min(left, need[1])
            if some:
                need[1] -= some
                left -= some
                yield Line(
                    supply=supply.key,
                    name=supply.name,
                    carrier=supply.carrier,
                    table=table,
                    use=facts.night.uses[need[0]],
                    count=some,
                )


def _first(facts: Facts, at: int, table: str) -> tuple[bool, bool, str, str]:
    """A table's own players first: their pieces go to its best uses."""
    return (not facts.plays(at, table), facts.carrier_of[at] is None, facts.night.supplies[at].key, table)


def sorted_lines(lines: Iterable[Line]) -> tuple[Line, ...]:
    return tuple(sorted(lines, key=lambda line: (line.carrier or "", line.supply, line.table, line.use.covers)))
