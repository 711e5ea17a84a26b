"""A map as GraphML, the open format in which tools that draw graphs exchange them (graphml.graphdrawing.org).

Regions are nodes, roads undirected edges, and each property of ours is a `key` of the same name. Reading is for files
of any tool: what is missing is made up and said, what is not understood is left out and said, and what cannot be a
map is refused with every reason.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final
from xml.sax.saxutils import escape, quoteattr

from league.engines.documents.map_graph import Graph, Part, graph_of
from league.engines.documents.map_layout import placed
from league.engines.documents.map_parts import MapDocument
from league.engines.documents.map_write import write_map
from league.engines.documents.map_xml import parse_xml
from league.engines.documents.reading import BadDocument, Fault, faults_by_schema, shown
from league.engines.maps import Map, Region, Road, faults_of

__all__ = ["GraphmlMap", "dump_graphml", "read_graphml"]

SPACE: Final = "http://graphml.graphdrawing.org/xmlns"
REGION: Final = {
    "name": "string",
    "terrain": "string",
    "x": "int",
    "y": "int",
    "worth": "int",
    "stronghold": "boolean",
    "port": "boolean",
    "produces": "int",
}
ROAD: Final = {"kind": "string", "capacity": "int", "loss": "int"}
HOLDER: Final = "holder"
LONGEST: Final = 40
TRUE: Final = frozenset({"true", "1"})  # as XML Schema writes a boolean
FALSE: Final = frozenset({"false", "0"})


@dataclass(frozen=True, kw_only=True, slots=True)
class GraphmlMap:
    """`holders` says who holds a region where the file does, by keys. `notes` are what was made up or left out."""

    map: Map
    holders: Mapping[str, str] = field(default_factory=dict)
    notes: tuple[str, ...] = ()


def dump_graphml(of: Map, holders: Mapping[str, str] | None = None) -> bytes:
    """The map as GraphML, UTF-8; reading it again gives the same map."""
    held = holders or {}
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<graphml xmlns="{SPACE}">',
        '  <key id="g-name" for="graph" attr.name="name" attr.type="string"/>',
        *(f'  <key id="n-{name}" for="node" attr.name="{name}" attr.type="{kind}"/>' for name, kind in REGION.items()),
        f'  <key id="n-{HOLDER}" for="node" attr.name="{HOLDER}" attr.type="string"/>',
        *(f'  <key id="e-{name}" for="edge" attr.name="{name}" attr.type="{kind}"/>' for name, kind in ROAD.items()),
        '  <graph id="map" edgedefault="undirected">',
        _data("g-name", of.name, 4),
    ]
    for region in of.regions:
        lines.append(f"    <node id={quoteattr(region.key)}>")
        lines += [_data(f"n-{name}", getattr(region, name), 6) for name in REGION]
        lines += [_data(f"n-{HOLDER}", held[region.key], 6)] if region.key in held else []
        lines.append("    </node>")
    for road in of.roads:
        ends = f"source={quoteattr(road.a)} target={quoteattr(road.b)}"
        lines.append(f"    <edge id={quoteattr(road.key)} {ends}>")
        lines += [_data(f"e-{name}", getattr(road, name), 6) for name in ROAD]
        lines.append("    </edge>")
    lines += ["  </graph>", "</graphml>", ""]
    return "\n".join(lines).encode()


def _data(key: str, value: object, indent: int) -> str:
    text = str(value).lower() if isinstance(value, bool) else str(value)
    return f'{" " * indent}<data key="{key}">{escape(text)}</data>'


def read_graphml(data: bytes) -> GraphmlMap:
    """The map that a GraphML file of any tool draws.

    Raises:
        BadDocument: with every fault; places are lines of the file.
    """
    graph = graph_of(parse_xml(data))
    reading = _Reading(graph)
    made = reading.map()
    faults = [*graph.faults, *reading.faults] or reading.faults_of(made)
    if faults:
        raise BadDocument(faults)
    return GraphmlMap(map=made, holders=reading.holders, notes=(*graph.notes, *reading.notes))


class _Reading:
    """From nodes and edges to regions and roads."""

    def __init__(self, graph: Graph) -> None:
        self.graph = graph
        self.faults: list[Fault] = []
        self.notes: list[str] = []
        self.holders: dict[str, str] = {}

    def map(self) -> Map:
        keys = self._keys([each.id for each in self.graph.nodes], "n")
        regions, roads = [], []
        key_of = dict(zip([each.id for each in self.graph.nodes], keys, strict=True))
        spots, note = placed([(each.number("x"), each.number("y")) for each in self.graph.nodes])
        self.notes += [note] if note else []
        for each, key, (x, y) in zip(self.graph.nodes, keys, spots, strict=True):
            region = Region(
                key=key,
                name=each.text("name") or each.text("label") or each.id,
                terrain=each.text("terrain"),
                x=x,
                y=y,
                worth=self._whole(each, "worth"),
                stronghold=self._yes(each, "stronghold"),
                port=self._yes(each, "port"),
                produces=self._whole(each, "produces"),
            )
            regions.append(region)
            if each.text(HOLDER):
                self.holders[key] = each.text(HOLDER)
        road_keys = self._keys([each.id for each in self.graph.edges], "e")
        for each, key in zip(self.graph.edges, road_keys, strict=True):
            road = Road(
                key=key,
                a=key_of.get(each.source, each.source),
                b=key_of.get(each.target, each.target),
                kind=each.text("kind") or "road",  # type: ignore[arg-type]  # checked with the map
                capacity=self._whole(each, "capacity"),
                loss=self._whole(each, "loss"),
            )
            roads.append(road)
        self._unknown()
        return Map(
            name=self.graph.text("name") or "Map",
            regions=tuple(regions),
            roads=tuple(roads),
        )

    def faults_of(self, made: Map) -> list[Fault]:
        """What is wrong with the map as a map, by the schema of the map document and across its parts, at the lines
        of the file."""
        document = write_map(MapDocument(map=made))
        found = [(fault.place.split("/")[1:], fault.text) for fault in faults_by_schema("map", document)] or [
            ([fault.part, str(fault.index)], fault.text) for fault in faults_of(made) if fault.severity == "broken"
        ]
        return [Fault(place=self._line(steps), text=text) for steps, text in found]

    def _line(self, steps: list[str]) -> str:
        lines = {"regions": self.graph.nodes, "roads": self.graph.edges}
        if len(steps) > 1 and steps[0] in lines:
            return f"line {lines[steps[0]][int(steps[1])].line}"
        return ""

    def _keys(self, ids: list[str], letter: str) -> list[str]:
        """Ids that serve as keys are kept; if one does not, all of them are numbered."""
        if all(len(each) <= LONGEST and re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9._-]*", each) for each in ids):
            return ids
        if any(ids):
            self.notes.append(f"The ids do not serve as keys, so there are new ones: {letter}1, {letter}2 and so on.")
        return [f"{letter}{number}" for number, _ in enumerate(ids, 1)]

    def _whole(self, part: Part, name: str) -> int:
        value = part.text(name) or "0"
        if not re.fullmatch(r"[+-]?[0-9]{1,9}(\.0+)?", value):
            self.faults.append(Fault(place=f"line {part.line}", text=f"{name} is {shown(value)}, no whole number."))
            return 0
        return int(value.split(".")[0])

    def _yes(self, part: Part, name: str) -> bool:
        value = (part.text(name) or "false").casefold()
        if value not in TRUE | FALSE:
            self.faults.append(
                Fault(place=f"line {part.line}", text=f"{name} is {shown(value)}, neither true nor false.")
            )
        return value in TRUE

    def _unknown(self) -> None:
        known_of: tuple[tuple[list[Part], set[str], str], ...] = (
            (self.graph.nodes, {*REGION, HOLDER, "label"}, "regions"),
            (self.graph.edges, set(ROAD), "roads"),
        )
        for parts, known, word in known_of:
            told = sorted({name for each in parts for name in each.values} - known)
            if told:
                self.notes.append(f"Left out, as it says nothing of {word} here: {', '.join(told[:20])}.")
