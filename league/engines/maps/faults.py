"""What can be wrong with a map: everything at once, each with its place and in plain words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Final, Literal, get_args

from league.engines.maps.model import EDGE, MOST, MOST_LOSS, Faction, Map, Region, Road, RoadKind
from league.engines.maps.ways import reachable

__all__ = ["MapFault", "Part", "Severity", "faults_of"]

KINDS: Final = frozenset(get_args(RoadKind))
NAMED: Final = 5  # so many regions are named in one sentence; the rest are counted
Part = Literal["map", "regions", "roads", "factions", "holders"]
# A broken map cannot be kept; one that is not ready can be kept and drawn further, but no war can be fought on it.
Severity = Literal["broken", "not_ready"]


@dataclass(frozen=True, kw_only=True, slots=True)
class MapFault:
    """One thing wrong. `index` counts within `part` in the order given, `key` is that of the region, road or faction;
    `field` is the attribute at fault, empty for the whole of it."""

    part: Part
    text: str
    index: int | None = None
    key: str = ""
    field: str = ""
    severity: Severity = "broken"

    def __str__(self) -> str:
        return self.text


def faults_of(
    of: Map,
    *,
    factions: Sequence[Faction] = (),
    holders: Mapping[str, str] | None = None,
    strongholds: bool = False,
) -> tuple[MapFault, ...]:
    """Every fault; none for a sound map.

    With `factions`, who holds what is looked at as well: a faction needs a source of supply, and where the war is
    about `strongholds`, one of those.
    """
    held = holders or {}
    known = {each.key: each for each in of.regions}
    structure = tuple(
        chain(
            _called(of),
            chain.from_iterable(_region(place, each) for place, each in enumerate(of.regions)),
            _twice("regions", of.regions, "region"),
            chain.from_iterable(_road(place, each, known) for place, each in enumerate(of.roads)),
            _twice_keys("roads", of.roads, "road"),
            _twice("factions", factions, "faction"),
            _holders(of, factions, held),
        )
    )
    if structure:
        return structure
    return tuple(chain(_islands(of), _without(of, factions, held, strongholds=strongholds)))


def _called(of: Map) -> Iterator[MapFault]:
    if not of.name.strip():
        yield MapFault(part="map", field="name", text="The map has no name.")
    if not of.regions:
        yield MapFault(part="regions", text="The map has no region.", severity="not_ready")


def _region(place: int, region: Region) -> Iterator[MapFault]:
    called = region.name.strip() or region.key or f"number {place + 1}"

    def fault(field: str, text: str) -> MapFault:
        return MapFault(part="regions", index=place, key=region.key, field=field, text=text)

    if not region.key:
        yield fault("key", f"The region {called} has no key.")
    if not region.name.strip():
        yield fault("name", f"The region {called} has no name.")
    for field, value in (("x", region.x), ("y", region.y)):
        if not 0 <= value <= EDGE:
            yield fault(field, f"{called} lies off the map: {field} is {value}, and must be from 0 to {EDGE}.")
    for field, word, value in (("produces", "yield", region.produces), ("worth", "worth", region.worth)):
        if not 0 <= value <= MOST:
            yield fault(field, f"The {word} of {called} is {value}, and must be from 0 to {MOST}.")


def _road(place: int, road: Road, known: Mapping[str, Region]) -> Iterator[MapFault]:
    called = f"The road {road.key}" if road.key else f"Road number {place + 1}"

    def fault(field: str, text: str) -> MapFault:
        return MapFault(part="roads", index=place, key=road.key, field=field, text=text)

    if not road.key:
        yield fault("key", f"{called} has no key.")
    for field, end in (("a", road.a), ("b", road.b)):
        if end not in known:
            yield fault(field, f"{called} leads to {end!r}, which is no region of the map.")
        elif road.kind == "sea_lane" and not known[end].port:
            yield fault(field, f"{called} is a sea lane, but {known[end].name} is no port.")
    if road.a == road.b:
        yield fault("b", f"{called} leads from {known[road.a].name if road.a in known else road.a} to itself.")
    if road.kind not in KINDS:
        yield fault("kind", f"{called} is a {road.kind!r}, which is no kind of road.")
    for field, value, most in (("capacity", road.capacity, MOST), ("loss", road.loss, MOST_LOSS)):
        if not 0 <= value <= most:
            yield fault(field, f"{called}: its {field} is {value}, and must be from 0 to {most}.")


def _twice_keys(part: Part, parts: Sequence[Region | Road | Faction], word: str) -> Iterator[MapFault]:
    times = Counter(each.key for each in parts)
    for place, each in enumerate(parts):
        if each.key and times[each.key] > 1:
            text = f"{times[each.key]} {word}s have the key {each.key}."
            yield MapFault(part=part, index=place, key=each.key, field="key", text=text)


def _twice(part: Part, parts: Sequence[Region | Faction], word: str) -> Iterator[MapFault]:
    yield from _twice_keys(part, parts, word)
    times = Counter(each.name.strip().casefold() for each in parts)
    for place, each in enumerate(parts):
        if each.name.strip() and times[each.name.strip().casefold()] > 1:
            text = f"{times[each.name.strip().casefold()]} {word}s are called {each.name.strip()}."
            yield MapFault(part=part, index=place, key=each.key, field="name", text=text)


def _holders(of: Map, factions: Sequence[Faction], holders: Mapping[str, str]) -> Iterator[MapFault]:
    regions, sides = {each.key for each in of.regions}, {each.key for each in factions}
    for region, faction in sorted(holders.items()):
        if region not in regions:
            text = f"{faction} is said to hold {region!r}, which is no region of the map."
            yield MapFault(part="holders", key=region, text=text)
        if sides and faction not in sides:
            text = f"{region} is said to be held by {faction!r}, which is no faction."
            yield MapFault(part="holders", key=region, text=text)


def islands_of(of: Map) -> list[tuple[str, ...]]:
    """The parts of the map that no road joins: each a tuple of region keys, the largest first."""
    everywhere = {each.key for each in of.regions}
    left, found = set(everywhere), []
    while left:
        part = reachable(of, [min(left)], passable=everywhere)
        found.append(tuple(sorted(part)))
        left -= part
    return sorted(found, key=lambda part: (-len(part), part))


def _islands(of: Map) -> Iterator[MapFault]:
    names = {each.key: each.name for each in of.regions}
    places = {each.key: place for place, each in enumerate(of.regions)}
    for part in islands_of(of)[1:]:
        told = ", ".join(names[key] for key in part[:NAMED])
        more = f" and {len(part) - NAMED} more" if len(part) > NAMED else ""
        yield MapFault(
            part="regions",
            index=places[part[0]],
            key=part[0],
            text=f"No road leads from the rest of the map to {told}{more}.",
            severity="not_ready",
        )


def _without(
    of: Map, factions: Sequence[Faction], holders: Mapping[str, str], *, strongholds: bool
) -> Iterator[MapFault]:
    for place, faction in enumerate(factions):
        own = [each for each in of.regions if holders.get(each.key) == faction.key]
        wants = [("region", bool(own)), ("source of supply", any(each.produces for each in own))]
        if strongholds:
            wants.append(("stronghold", any(each.stronghold for each in own)))
        for word, has in wants:
            if not has:
                text = f"{faction.name} holds no {word}."
                yield MapFault(part="factions", index=place, key=faction.key, text=text, severity="not_ready")
            if not own:
                break
