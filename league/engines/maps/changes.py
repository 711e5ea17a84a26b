"""A map edited under a running war: what changes, and what would become of what stands there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from typing import Literal

from league.engines.maps.faults import islands_of
from league.engines.maps.model import Map, Region, Road
from league.engines.maps.ways import shortest_way
from league.engines.rulesets import gettext_noop

__all__ = ["Change", "Standing", "changes"]

What = Literal["force", "stock", "holding", "order"]
# What only looks different; what the war will feel; what has no place to be any more, so that somebody must say where.
Weight = Literal["look", "felt", "homeless"]
LOOKS = frozenset({"name", "x", "y"})


@dataclass(frozen=True, kw_only=True, slots=True)
class Standing:
    """Something of the running war that is tied to a region or a road: a force, a stock, a holding, an order."""

    what: What
    key: str
    name: str
    region: str = ""
    road: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """One difference. `touches` is what stands there; `refuge` is the nearest region that stays, for what must move.

    `message` is an English template filled from `args`, for whoever translates.
    """

    code: str
    message: str
    args: Mapping[str, object] = field(default_factory=dict)
    key: str = ""
    weight: Weight = "felt"
    touches: tuple[Standing, ...] = ()
    refuge: str | None = None

    @property
    def text(self) -> str:
        return self.message % self.args


def changes(old: Map, new: Map, standing: Iterable[Standing] = ()) -> tuple[Change, ...]:
    """Every difference between two sound maps: regions by key, then roads, then what comes apart."""
    at_region: defaultdict[str, list[Standing]] = defaultdict(list)
    at_road: defaultdict[str, list[Standing]] = defaultdict(list)
    for each in sorted(standing, key=lambda one: (one.what, one.key)):
        if each.region:
            at_region[each.region].append(each)
        if each.road:
            at_road[each.road].append(each)
    return (
        *_regions(old, new, at_region),
        *_roads(old, new, at_road),
        *_apart(old, new, at_region),
    )


def _regions(old: Map, new: Map, at: Mapping[str, list[Standing]]) -> Iterator[Change]:
    before, after = old.region_by_key(), new.region_by_key()
    for key in sorted(before.keys() | after.keys()):
        there = tuple(at.get(key, ()))
        if key not in after:
            yield Change(
                code="region_gone",
                message=gettext_noop("%(region)s is taken off the map."),
                args={"region": before[key].name},
                key=key,
                weight="homeless" if there else "felt",
                touches=there,
                refuge=_refuge(old, key, after) if there else None,
            )
        elif key not in before:
            words = gettext_noop("%(region)s is new.")
            yield Change(code="region_new", message=words, args={"region": after[key].name}, key=key)
        else:
            yield from _altered("region", before[key], after[key], before[key].name, there)


def _roads(old: Map, new: Map, at: Mapping[str, list[Standing]]) -> Iterator[Change]:
    before, after = {each.key: each for each in old.roads}, {each.key: each for each in new.roads}
    for key in sorted(before.keys() | after.keys()):
        there = tuple(at.get(key, ()))
        if key not in after:
            yield Change(
                code="road_gone",
                message=gettext_noop("The road %(road)s is taken off the map."),
                args={"road": key},
                key=key,
                weight="homeless" if there else "felt",
                touches=there,
            )
        elif key not in before:
            yield Change(
                code="road_new", message=gettext_noop("The road %(road)s is new."), args={"road": key}, key=key
            )
        else:
            yield from _altered("road", before[key], after[key], key, there)


def _altered(
    kind: str, before: Region | Road, after: Region | Road, called: str, there: tuple[Standing, ...]
) -> Iterator[Change]:
    for each in fields(before):
        was, now = getattr(before, each.name), getattr(after, each.name)
        if was == now:
            continue
        yield Change(
            code=f"{kind}_{each.name}",
            message=gettext_noop("%(called)s: %(field)s was %(was)s and becomes %(now)s."),
            args={"called": called, "field": each.name, "was": was, "now": now},
            key=before.key,
            weight="look" if each.name in LOOKS else "felt",
            touches=there,
        )


def _refuge(old: Map, key: str, after: Mapping[str, Region]) -> str | None:
    """The nearest region, by the roads as they were, that is still on the map."""
    way = shortest_way(old, key, after.keys(), passable=old.region_by_key().keys())
    return way.end if way else None


def _apart(old: Map, new: Map, at: Mapping[str, list[Standing]]) -> Iterator[Change]:
    """Parts of the new map that no road joins any more to a larger part to which one did before."""
    names = {each.key: each.name for each in new.regions}
    once = {key: number for number, island in enumerate(islands_of(old)) for key in island}
    larger: set[int] = set()
    for island in islands_of(new):
        was = {once[key] for key in island if key in once}
        if was & larger:
            yield Change(
                code="cut_off",
                message=gettext_noop("No road leads any more from the rest of the map to %(regions)s."),
                args={"regions": ", ".join(names[key] for key in island)},
                key=island[0],
                touches=tuple(each for key in island for each in at.get(key, ())),
            )
        larger |= was
