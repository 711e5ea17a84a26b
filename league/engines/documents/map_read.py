"""JSON in: a map document, checked and turned into frozen values."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from itertools import chain
from typing import Any

from league.engines.documents.map_parts import MapDocument
from league.engines.documents.reading import BadDocument, Fault, faults_by_schema, pointer
from league.engines.maps import Faction, Map, MapFault, Region, Road, faults_of
from league.engines.supply import Force, Sending, Stock
from league.engines.supply.check import violations_of, violations_of_sendings

__all__ = ["FORMAT", "read_map", "unready"]

FORMAT = "drumhead map 1"
STEP = re.compile(r"[^.\[\]]+")


def read_map(document: Any) -> MapDocument:
    """The map a document tells of. One on which no war could start yet is read all the same: see `unready`.

    Raises:
        BadDocument: with every fault: first by the schema, and if its parts are in order, across them.
    """
    faults = faults_by_schema("map", document)
    if faults:
        raise BadDocument(faults)
    read = MapDocument(
        map=Map(
            name=document["name"],
            regions=tuple(_region(each) for each in document["regions"]),
            roads=tuple(_road(each) for each in document["roads"]),
        ),
        factions=tuple(
            Faction(key=each["key"], name=each["name"], side=each.get("side", ""))
            for each in document.get("factions", ())
        ),
        holders=dict(document.get("holders", {})),
        contested=tuple(document.get("contested", ())),
        stocks=tuple(
            Stock(region=each["region"], faction=each["faction"], loads=int(each["loads"]))
            for each in document.get("stocks", ())
        ),
        forces=tuple(_force(each) for each in document.get("forces", ())),
        sendings=tuple(_sending(each) for each in document.get("sendings", ())),
    )
    faults = list(chain(_of_the_map(read), _of_the_war(read)))
    if faults:
        raise BadDocument(faults)
    return read


def unready(document: MapDocument, *, strongholds: bool = False) -> tuple[MapFault, ...]:
    """What keeps a war from starting on a map that is read: islands, factions without a source of supply."""
    if not document.factions:
        return faults_of(document.map)
    return faults_of(document.map, factions=document.factions, holders=document.holders, strongholds=strongholds)


def _of_the_map(read: MapDocument) -> Iterator[Fault]:
    for fault in faults_of(read.map, factions=read.factions, holders=read.holders):
        if fault.severity == "broken":
            steps = [fault.field] if fault.part == "map" else [fault.part, fault.index, fault.field]
            if fault.part == "holders":
                steps = ["holders", fault.key]
            yield Fault(place=pointer(step for step in steps if step not in {"", None}), text=fault.text)
    if not read.factions:
        for region in sorted(read.holders):
            yield Fault(place=pointer(["holders", region]), text="There are no factions that could hold it.")


def _of_the_war(read: MapDocument) -> Iterator[Fault]:
    situation = read.situation
    for each in (*violations_of(situation), *violations_of_sendings(read.sendings, situation)):
        if not each.place.startswith("map."):
            yield Fault(place=pointer(STEP.findall(each.place)), text=each.text)


def _region(each: Mapping[str, Any]) -> Region:
    return Region(
        key=each["key"],
        name=each["name"],
        terrain=each.get("terrain", ""),
        x=int(each["x"]),
        y=int(each["y"]),
        worth=int(each.get("worth", 0)),
        stronghold=each.get("stronghold", False),
        port=each.get("port", False),
        produces=int(each.get("produces", 0)),
    )


def _road(each: Mapping[str, Any]) -> Road:
    return Road(
        key=each["key"],
        a=each["a"],
        b=each["b"],
        kind=each.get("kind", "road"),
        capacity=int(each.get("capacity", 0)),
        loss=int(each.get("loss", 0)),
    )


def _force(each: Mapping[str, Any]) -> Force:
    return Force(
        key=each["key"],
        name=each["name"],
        faction=each["faction"],
        region=each["region"],
        need=int(each["need"]),
        importance=int(each.get("importance", 1)),
    )


def _sending(each: Mapping[str, Any]) -> Sending:
    return Sending(
        key=each["key"], faction=each["faction"], origin=each["origin"], to=each["to"], loads=int(each["loads"])
    )
