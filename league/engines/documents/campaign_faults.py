"""What is wrong with a campaign across its parts: names that name nothing, things that stand twice."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

from league.engines.documents.reading import Fault
from league.engines.maps import Faction as MapFaction
from league.engines.maps import faults_of as faults_of_map
from league.engines.war import Campaign, Depot, Fact, Holding, OrderSet, Price, RaiseForce, Settlement, Stock, Worth
from league.engines.war.model import Force

__all__ = ["faults_of"]

PARTS = {
    "regions": "/map/regions",
    "roads": "/map/roads",
    "factions": "/factions",
    "holders": "/holdings",
    "map": "/map",
}


def faults_of(campaign: Campaign, facts: Sequence[Fact]) -> list[Fault]:
    """Every fault. Orders and reports that could not be carried out are none: the fold leaves them out and says so."""
    return [
        *_map(campaign),
        *_twice("/factions", campaign.factions, lambda each: each.key, "faction"),
        *_twice("/forces", campaign.forces, lambda each: each.key, "force"),
        *_twice("/holdings", campaign.holdings, lambda each: each.region, "region"),
        *_twice("/depots", campaign.depots, lambda each: each.region, "depot"),
        *_twice("/stocks", campaign.stocks, lambda each: (each.region, each.faction), "stock"),
        *_places(campaign),
        *_forces(campaign),
        *_rules(campaign),
        *_facts(campaign, facts),
    ]


def _map(campaign: Campaign) -> Iterator[Fault]:
    factions = [MapFaction(key=each.key, name=each.name) for each in campaign.factions]
    for each in faults_of_map(campaign.map, factions=factions):
        if each.severity != "broken" or each.part == "factions":
            continue
        place = PARTS[each.part]
        if each.index is not None:
            place += f"/{each.index}"
        yield Fault(place=f"{place}/{each.field}" if each.field else place, text=each.text)


def _twice(place: str, parts: Sequence[Any], key: Callable[[Any], Any], word: str) -> Iterator[Fault]:
    times = Counter(key(each) for each in parts)
    for number, each in enumerate(parts):
        if times[key(each)] > 1:
            yield Fault(place=f"{place}/{number}", text=f"This {word} stands more than once.")


def _places(campaign: Campaign) -> Iterator[Fault]:
    """Holdings, depots, stocks: regions and factions that exist; supply where it can be kept."""
    regions, factions = campaign.map.region_by_key(), {each.key for each in campaign.factions}
    held = {each.region: each.faction for each in campaign.holdings}
    depots = {each.region: each.faction for each in campaign.depots}
    parts: tuple[tuple[str, tuple[Holding | Depot | Stock, ...]], ...] = (
        ("holdings", campaign.holdings),
        ("depots", campaign.depots),
        ("stocks", campaign.stocks),
    )
    for part, rows in parts:
        for number, row in enumerate(rows):
            if row.region not in regions:
                yield Fault(place=f"/{part}/{number}/region", text=f"The map has no region {row.region!r}.")
            if row.faction not in factions:
                yield Fault(place=f"/{part}/{number}/faction", text=f"There is no faction {row.faction!r}.")
    for number, stock in enumerate(campaign.stocks):
        place = regions.get(stock.region)
        source = place is not None and place.produces and held.get(stock.region) == stock.faction
        if place is not None and not source and depots.get(stock.region) != stock.faction:
            text = f"{stock.faction!r} has no depot and no source of supply in {stock.region!r}."
            yield Fault(place=f"/stocks/{number}", text=text)


def _forces(campaign: Campaign) -> Iterator[Fault]:
    for number, force in enumerate(campaign.forces):
        yield from _force(campaign, force, f"/forces/{number}")


def _force(campaign: Campaign, force: Force, place: str) -> Iterator[Fault]:
    if campaign.map.region(force.region) is None:
        yield Fault(place=f"{place}/region", text=f"The map has no region {force.region!r}.")
    if campaign.faction(force.faction) is None:
        yield Fault(place=f"{place}/faction", text=f"There is no faction {force.faction!r}.")
    yield from _twice(f"{place}/units", force.units, lambda each: each.id, "unit")
    for number, unit in enumerate(force.units):
        if campaign.ruleset.unit_class(unit.unit_class) is None:
            text = f"The ruleset has no class {unit.unit_class!r}."
            yield Fault(place=f"{place}/units/{number}/unit_class", text=text)
        if unit.quality and campaign.ruleset.quality(unit.quality) is None:
            text = f"The ruleset has no quality {unit.quality!r}."
            yield Fault(place=f"{place}/units/{number}/quality", text=text)


def _rules(campaign: Campaign) -> Iterator[Fault]:
    known = campaign.ruleset
    for number, ground in enumerate(campaign.rules.grounds):
        for field in ("scenarios", "meeting"):
            for index, key in enumerate(getattr(ground, field)):
                if known.scenario(key) is None:
                    place = f"/rules/grounds/{number}/{field}/{index}"
                    yield Fault(place=place, text=f"The ruleset has no scenario {key!r}.")
    yield from _twice("/rules/grounds", campaign.rules.grounds, lambda each: each.terrain, "terrain")
    yield from _kinds_of_unit(campaign)
    percents = {"captured_percent": campaign.rules.captured_percent}
    for condition in ("short", "cut_off"):
        percents[f"{condition}/lost_percent"] = getattr(campaign.rules, condition).lost_percent
    for field, value in percents.items():
        if value > 100:  # noqa: PLR2004 - per cent
            yield Fault(place=f"/rules/{field}", text="No more than 100 per cent can be.")


def _kinds_of_unit(campaign: Campaign) -> Iterator[Fault]:
    known = campaign.ruleset
    parts: tuple[tuple[str, tuple[Price | Worth, ...]], ...] = (
        ("prices", campaign.rules.prices),
        ("worths", campaign.rules.worths),
    )
    for part, rows in parts:
        for number, row in enumerate(rows):
            if row.unit_class and known.unit_class(row.unit_class) is None:
                text = f"The ruleset has no class {row.unit_class!r}."
                yield Fault(place=f"/rules/{part}/{number}/unit_class", text=text)
            if row.quality and known.quality(row.quality) is None:
                text = f"The ruleset has no quality {row.quality!r}."
                yield Fault(place=f"/rules/{part}/{number}/quality", text=text)


def _facts(campaign: Campaign, facts: Sequence[Fact]) -> Iterator[Fault]:
    yield from _twice("/facts", facts, lambda each: each.id, "id")
    yield from _twice("/facts", facts, lambda each: each.sequence, "place in the order")
    superseding = [each for each in facts if each.supersedes is not None]
    times = Counter(each.supersedes for each in superseding)
    by_id = {each.id: each for each in facts}
    for number, each in enumerate(facts):
        place = f"/facts/{number}"
        if each.supersedes is not None:
            old = by_id.get(each.supersedes)
            if old is None or old.sequence >= each.sequence:
                text = f"There is no earlier fact {each.supersedes!r} to supersede."
                yield Fault(place=f"{place}/supersedes", text=text)
            elif type(old) is not type(each) or old.turn != each.turn:
                text = "A fact supersedes one of its own kind and turn."
                yield Fault(place=f"{place}/supersedes", text=text)
            if times[each.supersedes] > 1:
                yield Fault(place=f"{place}/supersedes", text=f"The fact {each.supersedes!r} is superseded twice.")
        if isinstance(each, OrderSet) and campaign.faction(each.faction) is None:
            yield Fault(place=f"{place}/faction", text=f"There is no faction {each.faction!r}.")
        if isinstance(each, Settlement) and each.outcome not in by_id:
            yield Fault(place=f"{place}/outcome", text=f"There is no fact {each.outcome!r}.")
        yield from _raised(campaign, each, place)


def _raised(campaign: Campaign, fact: Fact, place: str) -> Iterator[Fault]:
    effects: Iterable[object] = getattr(fact, "effects", ())
    for number, effect in enumerate(effects):
        if isinstance(effect, RaiseForce):
            for fault in _force(campaign, effect.force, f"{place}/effects/{number}/force"):
                # A new map may have regions the first had not; the fold sees to that.
                if not fault.place.endswith("/region"):
                    yield fault
