"""What can be wrong with a situation: everything at once, in plain words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import chain

from league.engines.maps import Faction, faults_of
from league.engines.maps.model import MOST
from league.engines.supply.model import BadSituation, Force, Situation, Stock

__all__ = ["check_situation", "violations_of"]


def check_situation(situation: Situation) -> None:
    """Raise `BadSituation` with every reason, or return."""
    violations = violations_of(situation)
    if violations:
        raise BadSituation(violations)


def violations_of(situation: Situation) -> tuple[str, ...]:
    """Every violation, none for a sound situation. A map on which no war could start is sound enough to reckon on."""
    factions = [Faction(key=key, name=key) for key in situation.factions]
    regions = frozenset(each.key for each in situation.map.regions)
    faults = faults_of(situation.map, factions=factions, holders=situation.holders)
    return tuple(
        chain(
            dict.fromkeys(fault.text for fault in faults if fault.severity == "broken"),
            (
                f"{region!r} is said to be contested, but is no region of the map."
                for region in sorted(situation.contested - regions)
            ),
            _twice("stock", (f"of {each.faction} in {each.region}" for each in situation.stocks)),
            _twice("force", (each.key for each in situation.forces)),
            chain.from_iterable(_stock(each, situation, regions) for each in situation.stocks),
            chain.from_iterable(_force(each, situation, regions) for each in situation.forces),
        )
    )


def _twice(word: str, keys: Iterable[str]) -> Iterator[str]:
    for key, times in Counter(keys).items():
        if times > 1:
            yield f"The {word} {key} is named {times} times."


def _stock(stock: Stock, situation: Situation, regions: frozenset[str]) -> Iterator[str]:
    called = f"The stock in {stock.region}"
    yield from _belongs(called, stock.faction, stock.region, situation, regions)
    if not 0 <= stock.loads <= MOST:
        yield f"{called} is {stock.loads} loads, and must be from 0 to {MOST}."
    if not situation.welcome(stock.region, stock.faction) and stock.region not in situation.contested:
        holder = situation.holders[stock.region]
        yield f"{called} is said to be {stock.faction}'s, but {holder} holds the region."


def _force(force: Force, situation: Situation, regions: frozenset[str]) -> Iterator[str]:
    called = force.name or force.key or "A force without a name"
    yield from _belongs(called, force.faction, force.region, situation, regions)
    if not force.key:
        yield f"{called} has no key."
    if not 0 <= force.need <= MOST:
        yield f"{called} needs {force.need} loads, and that must be from 0 to {MOST}."
    if not 1 <= force.importance <= MOST:
        yield f"The importance of {called} is {force.importance}, and must be 1 or more."


def _belongs(called: str, faction: str, region: str, situation: Situation, regions: frozenset[str]) -> Iterator[str]:
    if faction not in situation.factions:
        yield f"{called} belongs to {faction!r}, which is no faction."
    if region not in regions:
        yield f"{called}: {region!r} is no region of the map."
