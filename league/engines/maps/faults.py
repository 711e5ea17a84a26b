"""What can be wrong with a map: everything at once, each with its place and in plain words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import Final, Literal, get_args

from league.engines.maps.model import EDGE, MOST, MOST_LOSS, Faction, Map, Region, Road, RoadKind
from league.engines.maps.ways import reachable
from league.engines.rulesets import gettext_noop

__all__ = ["MapFault", "Part", "Severity", "faults_of", "islands_of"]

KINDS: Final = frozenset(get_args(RoadKind))
NAMED: Final = 5  # so many regions are named in one sentence; the rest are counted
Part = Literal["map", "regions", "roads", "factions", "holders"]
# A broken map cannot be kept; one that is not ready can be kept and drawn further, but no war can be fought on it.
Severity = Literal["broken", "not_ready"]


@dataclass(frozen=True, kw_only=True, slots=True)
class MapFault:
    """One thing wrong.

    `code` is for programs; `message` an English template filled from `args`, for whoever translates. `index` counts
    within `part` in the order given, `key` is that of the region, road or faction; `field` is the attribute at
    fault, empty for the whole of it.
    """

    code: str
    message: str
    part: Part
    args: Mapping[str, object] = field(default_factory=dict)
    index: int | None = None
    key: str = ""
    field: str = ""
    severity: Severity = "broken"

    @property
    def text(self) -> str:
        """The message in English, filled in."""
        return self.message % self.args


def faults_of(
    of: Map,
    *,
    factions: Sequence[Faction] = (),
    holders: Mapping[str, str] | None = None,
    strongholds: bool = False,
) -> tuple[MapFault, ...]:
    """Every fault; none for a sound map.

    With `factions`, who holds what is looked at as well: a faction needs a region, a source of supply, and where the
    war is about `strongholds`, one of those. Islands and what a faction lacks are told once nothing is broken.
    """
    held = holders or {}
    known = {each.key: each for each in of.regions}
    broken = tuple(
        chain(
            _named(of),
            chain.from_iterable(_region(place, each) for place, each in enumerate(of.regions)),
            _keys_twice("regions", of.regions, gettext_noop("%(times)s regions have the key %(key)s.")),
            _names_twice("regions", of.regions, gettext_noop("%(times)s regions are called %(name)s.")),
            chain.from_iterable(_road(place, each, known) for place, each in enumerate(of.roads)),
            _keys_twice("roads", of.roads, gettext_noop("%(times)s roads have the key %(key)s.")),
            _keys_twice("factions", factions, gettext_noop("%(times)s factions have the key %(key)s.")),
            _names_twice("factions", factions, gettext_noop("%(times)s factions are called %(name)s.")),
            _holders(known, factions, held),
        )
    )
    return broken or tuple(chain(_islands(of), _lacks(of, factions, held, strongholds=strongholds)))


def _named(of: Map) -> Iterator[MapFault]:
    if not of.name.strip():
        yield MapFault(code="no_name", part="map", field="name", message=gettext_noop("The map has no name."))


def _region(place: int, region: Region) -> Iterator[MapFault]:
    called = region.name.strip() or region.key or f"#{place + 1}"

    def fault(code: str, at: str, message: str, **args: object) -> MapFault:
        args["region"] = called
        return MapFault(code=code, message=message, args=args, part="regions", index=place, key=region.key, field=at)

    if not region.key:
        yield fault("no_key", "key", gettext_noop("The region %(region)s has no key."))
    if not region.name.strip():
        yield fault("no_name", "name", gettext_noop("The region %(region)s has no name."))
    for at, value in (("x", region.x), ("y", region.y)):
        if not 0 <= value <= EDGE:
            words = gettext_noop("%(region)s lies off the map: %(field)s is %(value)s, and must be from 0 to %(most)s.")
            yield fault("off_the_map", at, words, field=at, value=value, most=EDGE)
    if not 0 <= region.produces <= MOST:
        words = gettext_noop("%(region)s yields %(value)s, and that must be from 0 to %(most)s.")
        yield fault("out_of_range", "produces", words, value=region.produces, most=MOST)
    if not 0 <= region.worth <= MOST:
        words = gettext_noop("%(region)s is worth %(value)s, and that must be from 0 to %(most)s.")
        yield fault("out_of_range", "worth", words, value=region.worth, most=MOST)


def _road(place: int, road: Road, known: Mapping[str, Region]) -> Iterator[MapFault]:
    def fault(code: str, at: str, message: str, **args: object) -> MapFault:
        args["road"] = road.key or f"#{place + 1}"
        return MapFault(code=code, message=message, args=args, part="roads", index=place, key=road.key, field=at)

    if not road.key:
        yield fault("no_key", "key", gettext_noop("The road %(road)s has no key."))
    for at, end in (("a", road.a), ("b", road.b)):
        if end not in known:
            words = gettext_noop("The road %(road)s leads to %(region)s, which is no region of the map.")
            yield fault("unknown_region", at, words, region=end)
        elif road.kind == "sea_lane" and not known[end].port:
            words = gettext_noop("The road %(road)s is a sea lane, but %(region)s is no port.")
            yield fault("no_port", at, words, region=known[end].name)
    if road.a == road.b:
        words = gettext_noop("The road %(road)s leads from %(region)s to itself.")
        yield fault("loop", "b", words, region=known[road.a].name if road.a in known else road.a)
    if road.kind not in KINDS:
        words = gettext_noop("The road %(road)s is a %(kind)s, which is no kind of road.")
        yield fault("unknown_kind", "kind", words, kind=road.kind)
    if not 0 <= road.capacity <= MOST:
        words = gettext_noop("The road %(road)s carries %(value)s, and that must be from 0 to %(most)s.")
        yield fault("out_of_range", "capacity", words, value=road.capacity, most=MOST)
    if not 0 <= road.loss <= MOST_LOSS:
        words = gettext_noop("The road %(road)s loses %(value)s hundredths, and that must be from 0 to %(most)s.")
        yield fault("out_of_range", "loss", words, value=road.loss, most=MOST_LOSS)


def _keys_twice(part: Part, parts: Sequence[Region | Road | Faction], words: str) -> Iterator[MapFault]:
    times = Counter(each.key for each in parts)
    for place, each in enumerate(parts):
        if each.key and times[each.key] > 1:
            args = {"times": times[each.key], "key": each.key}
            yield MapFault(
                code="key_twice", message=words, args=args, part=part, index=place, key=each.key, field="key"
            )


def _names_twice(part: Part, parts: Sequence[Region | Faction], words: str) -> Iterator[MapFault]:
    """Names that look alike: `Harrow` and `harrow` would be taken for one another at the table."""
    times = Counter(_heard(each.name) for each in parts)
    for place, each in enumerate(parts):
        if each.name.strip() and times[_heard(each.name)] > 1:
            args = {"times": times[_heard(each.name)], "name": each.name.strip()}
            yield MapFault(
                code="name_twice", message=words, args=args, part=part, index=place, key=each.key, field="name"
            )


def _heard(name: str) -> str:
    return " ".join(name.casefold().split())


def _holders(
    known: Mapping[str, Region], factions: Sequence[Faction], holders: Mapping[str, str]
) -> Iterator[MapFault]:
    sides = {each.key for each in factions}
    for region, faction in sorted(holders.items()):
        args = {"region": region, "faction": faction}
        if region not in known:
            words = gettext_noop("%(faction)s is said to hold %(region)s, which is no region of the map.")
            yield MapFault(code="unknown_region", message=words, args=args, part="holders", key=region)
        if sides and faction not in sides:
            words = gettext_noop("%(region)s is said to be held by %(faction)s, which is no faction.")
            yield MapFault(code="unknown_faction", message=words, args=args, part="holders", key=region)


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
    if not of.regions:
        words = gettext_noop("The map has no region.")
        yield MapFault(code="empty", message=words, part="regions", severity="not_ready")
    names = {each.key: each.name for each in of.regions}
    places = {each.key: place for place, each in enumerate(of.regions)}
    for part in islands_of(of)[1:]:
        told = ", ".join(names[key] for key in part[:NAMED])
        words = gettext_noop("No road leads from the rest of the map to %(regions)s.")
        if len(part) > NAMED:
            words = gettext_noop("No road leads from the rest of the map to %(regions)s and %(more)s more.")
        yield MapFault(
            code="island",
            message=words,
            args={"regions": told, "more": len(part) - NAMED},
            part="regions",
            index=places[part[0]],
            key=part[0],
            severity="not_ready",
        )


def _lacks(
    of: Map, factions: Sequence[Faction], holders: Mapping[str, str], *, strongholds: bool
) -> Iterator[MapFault]:
    for place, faction in enumerate(factions):
        own = [each for each in of.regions if holders.get(each.key) == faction.key]
        wanting = []
        if not own:
            wanting.append(("no_region", gettext_noop("No region is held by %(faction)s.")))
        elif not any(each.produces for each in own):
            wanting.append(("no_source", gettext_noop("No source of supply is held by %(faction)s.")))
        if own and strongholds and not any(each.stronghold for each in own):
            wanting.append(("no_stronghold", gettext_noop("No stronghold is held by %(faction)s.")))
        for code, words in wanting:
            yield MapFault(
                code=code,
                message=words,
                args={"faction": faction.name},
                part="factions",
                index=place,
                key=faction.key,
                severity="not_ready",
            )
