"""A plan added up again from its lines alone, in whole numbers, without the programme it came from."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping

from league.engines.kit.model import Night, Packed, Use

from .model import RANKS, Count, Level, Line, Load, Plan, Served, Shortfall
from .tally import Tally


class PlanUnsound(ArithmeticError):
    """A plan does not add up; it must not be shown."""


def check_plan(night: Night, plan: Plan) -> None:
    """Raises PlanUnsound with everything that does not add up: what is held, uses, looks, shortfalls, values, proofs."""
    faults = [*_faults(night, plan)]
    if faults:
        raise PlanUnsound(" ".join(faults))


def missing_of(night: Night, served: Iterable[Served]) -> dict[str, int]:
    """Pieces that each demand misses, for those that miss any."""
    met: Counter[str] = Counter()
    for each in served:
        for key, pieces in each.use.covers:
            met[key] += pieces * each.times
    return {demand.key: demand.count - met[demand.key] for demand in night.demands if demand.count > met[demand.key]}


def loads_of(night: Night, lines: Iterable[Line]) -> tuple[Load, ...]:
    """What each person who brings anything has to carry."""
    bulk = {supply.key: supply.bulk_ml for supply in night.supplies}
    by_carrier: defaultdict[str | None, list[Line]] = defaultdict(list)
    for line in lines:
        by_carrier[line.carrier].append(line)
    return tuple(
        Load(
            carrier=carrier.key,
            name=carrier.name,
            lines=len({line.supply for line in by_carrier[carrier.key]}),
            pieces=sum(line.count for line in by_carrier[carrier.key]),
            bulk_ml=sum(line.count * bulk[line.supply] for line in by_carrier[carrier.key]),
            carries_most_ml=carrier.carries_most_ml,
        )
        for carrier in sorted(night.carriers, key=lambda carrier: carrier.key)
        if by_carrier[carrier.key]
    )


def levels_of(night: Night, lines: Iterable[Line], served: Iterable[Served]) -> Mapping[Level, int]:
    """What a plan of these lines and uses costs at every level."""
    lines, served = tuple(lines), tuple(served)
    missing = missing_of(night, served)
    loads = loads_of(night, lines)
    plays = {carrier.key: set(carrier.tables) for carrier in night.carriers}
    short: Counter[str] = Counter()
    for demand in night.demands:
        short[demand.importance] += missing.get(demand.key, 0)
    return {
        "needed": short["needed"],
        "wanted": short["wanted"],
        "pleasant": short["pleasant"],
        "rank": sum(each.use.rank * each.times for each in served),
        "loss": sum(each.use.loss * each.times for each in served),
        "changes": _changes(night, lines),
        "away": sum(line.count for line in lines if line.carrier is not None and line.table not in plays[line.carrier]),
        "carriers": len(loads),
        "lines": sum(load.lines for load in loads),
        "excess_ml": sum(load.excess_ml for load in loads),
        "pieces": sum(line.count for line in lines),
    }


def _changes(night: Night, lines: Iterable[Line]) -> int:
    packers = {carrier.key for carrier in night.carriers if carrier.has_packed}
    theirs = {supply.key for supply in night.supplies if supply.carrier in packers}
    before = _by_table(each for each in night.packed if each.supply in theirs)
    after = _by_table(line for line in lines if line.supply in theirs)
    return sum(abs(after[key] - before[key]) for key in before.keys() | after.keys())


def _by_table(parts: Iterable[Packed] | Iterable[Line]) -> Counter[tuple[str, str]]:
    counts: Counter[tuple[str, str]] = Counter()
    for each in parts:
        counts[each.supply, each.table] += each.count
    return counts


def _faults(night: Night, plan: Plan) -> Iterator[str]:
    yield from _line_faults(night, plan.lines)
    yield from _use_faults(night, plan)
    yield from _look_faults(night, plan.served)
    missing = missing_of(night, plan.served)
    if {short.demand: short.missing for short in plan.shortfalls} != missing:
        yield "The shortfalls are not what the uses leave."
    tally = Tally.of(night)
    right = {count: tally.holds(count) for count in {short.count for short in plan.shortfalls} if count}
    for short in plan.shortfalls:
        if short.count is not None and not (right[short.count] and _fits(night, missing, short, short.count)):
            yield f"The count for “{short.demand}” proves nothing."
    levels = levels_of(night, plan.lines, plan.served)
    for value in plan.values:
        if levels[value.level] != value.value or value.bound > value.value:
            yield f"{value.level} is {levels[value.level]}, not {value.value} (at least {value.bound})."
    if plan.loads != loads_of(night, plan.lines):
        yield "The loads are not what the lines weigh."


def _line_faults(night: Night, lines: Iterable[Line]) -> Iterator[str]:
    held = {supply.key: supply for supply in night.supplies}
    given: Counter[str] = Counter()
    for line in lines:
        given[line.supply] += line.count
        supply = held.get(line.supply)
        if supply is None or (line.good, line.carrier) != (supply.good, supply.carrier):
            yield f"A line takes “{line.good}” out of “{line.supply}”."
        if line.count < 1:
            yield f"A line of “{line.supply}” has {line.count} pieces."
    for key, count in given.items():
        if key in held and count > held[key].count:
            yield f"{count} pieces are taken out of “{key}”, which holds {held[key].count}."


def _use_faults(night: Night, plan: Plan) -> Iterator[str]:
    brought: Counter[Use] = Counter()
    for line in plan.lines:
        brought[line.use] += line.count
        if line.table != line.use.table:
            yield f"A line brings “{line.good}” to “{line.table}” for a use at “{line.use.table}”."
    known = set(night.uses)
    for each in plan.served:
        if each.use not in known or brought.pop(each.use, 0) != each.times * each.use.takes:
            yield f"A use of “{each.use.good}” at “{each.use.table}” is not what its lines bring."
    if brought:
        yield "Lines bring what no use takes."


def _fits(night: Night, missing: Mapping[str, int], short: Shortfall, count: Count) -> bool:
    """Whether a right count is as large as what its demands miss, and about nothing that matters less than the demand."""
    within = set(count.demands)
    lesser = any(RANKS[each.importance] > RANKS[short.importance] for each in night.demands if each.key in within)
    return short.demand in within and not lesser and sum(missing.get(key, 0) for key in within) == count.missing


def _look_faults(night: Night, served: Iterable[Served]) -> Iterator[str]:
    looks: defaultdict[str, set[str]] = defaultdict(set)
    for each in served:
        for key, _ in each.use.covers:
            looks[key].add(each.use.look or each.use.good)
    for apart in night.apart:
        seen = Counter(look for key in set(apart.demands) for look in looks[key])
        for look in (look for look, times in seen.items() if times > 1):
            yield f"“{look}” is used for two of {', '.join(apart.demands)}."
