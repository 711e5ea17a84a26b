"""Why a line is there and why something is missing, in sentences."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Final

from league.engines.kit.model import Demand

from .facts import Facts
from .model import Count, Level, Line, Reason, Shortfall, Value

SHOWN: Final = 4  # goods in a list before the rest is counted


def with_reasons(facts: Facts, lines: Sequence[Line]) -> tuple[Line, ...]:
    """The same lines, each with why it is there."""
    night = facts.night
    packed = {(night.supplies[at].key, table): count for (at, table), count in facts.packed.items()}
    given: Counter[str] = Counter()
    bringing: defaultdict[str | None, set[str]] = defaultdict(set)
    for line in lines:
        given[line.good] += line.count
        bringing[line.carrier].add(line.supply)
    people = {carrier.key: carrier for carrier in night.carriers}
    asked = {demand.key: demand for demand in night.demands}

    def reasons(line: Line) -> Iterable[Reason]:
        covered = ", ".join(dict.fromkeys(asked[key].name for key, _ in line.use.covers))
        if line.use.rank:
            note = f" ({line.use.note})" if line.use.note else ""
            yield Reason(
                code="stand_in",
                words=f"Stands in for {covered}{note}, because not enough of the thing itself is to be had.",
            )
        if line.carrier is None:
            yield Reason(code="venue", words="It is at the venue already.")
            return
        carrier = people[line.carrier]
        if (line.supply, line.table) in packed and carrier.has_packed:
            yield Reason(code="packed", words=f"{carrier.name} has packed it for this table already.")
        if line.table in carrier.tables:
            yield Reason(code="own_table", words=f"{carrier.name} plays at this table.")
        elif given[line.good] == facts.held[line.good]:
            yield Reason(code="only", words="Every piece there is of this is in use.")
        elif len(facts.supplies_of[line.good]) == 1:
            yield Reason(code="only", words="Nobody else who comes has any to spare.")
        elif len(bringing[line.carrier]) > 1:
            yield Reason(code="coming_anyway", words=f"{carrier.name} brings other things anyway.")
        else:
            yield Reason(
                code="spare", words=f"{carrier.name} has some to spare, and the table’s own players have not enough."
            )

    return tuple(replace(line, reasons=tuple(reasons(line))) for line in lines)


def of_count(facts: Facts, count: Count) -> str:
    """The count of a proof."""
    names = {supply.good: supply.name for supply in reversed(facts.night.supplies)}
    shown = [f"{each.held} × {names[each.good]}" for each in count.goods if each.held]
    more = f" and {len(shown) - SHOWN} kinds more" if len(shown) > SHOWN else ""
    needs = (
        "It asks"
        if len(count.demands) == 1
        else f"It and what competes with it, {len(count.demands)} needs together, ask"
    )
    if not shown:
        return f"{needs} for {count.asked}, and nobody who comes has anything that could serve."
    return (
        f"{needs} for {count.asked}; all there is that could serve, {', '.join(shown[:SHOWN])}{more}, "
        f"meets {count.meets}. So {count.missing} will be missing, whoever brings what."
    )


def of_shortfall(demand: Demand, missing: int, count: Count | None, values: Mapping[Level, Value]) -> Shortfall:
    value = values[demand.importance]
    words = f"{demand.name}: {missing} of {demand.count} missing. "
    if count is not None:
        words += count.words
    elif value.proof == "open":
        words += (
            f"This plan misses {value.value} {value.level} pieces in all; no plan can miss fewer than {value.bound}, "
            "but the time ran out before it was known which is the least."
        )
    else:
        by = "by an exact bound" if value.proof == "integers" else "by the solver’s search"
        words += (
            f"Not to be shown by counting alone, because pieces must look different, are needed in sets or serve "
            f"several needs at once; {by}, no plan misses fewer than {value.bound} {value.level} pieces in all."
        )
    return Shortfall(
        demand=demand.key,
        table=demand.table,
        name=demand.name,
        importance=demand.importance,
        asked=demand.count,
        missing=missing,
        count=count,
        words=words,
    )
