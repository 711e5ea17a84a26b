"""GraphML as written: nodes, edges and their data, with what of it cannot be a map."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from league.engines.documents.map_xml import Element
from league.engines.documents.reading import BadDocument, Fault, shown

__all__ = ["Graph", "Part", "graph_of"]

# Elements that a map has no use for but that take nothing from it.
PASSED_OVER: Final = frozenset({"desc", "data", "locator", "port"})


def _one_line(text: str) -> str:
    """As it stands, but for text that a tool broke over lines."""
    return " ".join(text.split()) if set(text) & set("\n\r\t") else text


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """A node or an edge: `values` are its data by attribute name, defaults filled in."""

    id: str
    line: int
    values: Mapping[str, str]
    source: str = ""
    target: str = ""

    def text(self, name: str) -> str:
        return _one_line(self.values.get(name, ""))

    def number(self, name: str) -> float | None:
        try:
            value = float(self.values.get(name, ""))
        except ValueError:
            return None
        return value if math.isfinite(value) else None


@dataclass(kw_only=True, slots=True)
class Graph:
    values: Mapping[str, str] = field(default_factory=dict)
    nodes: list[Part] = field(default_factory=list)
    edges: list[Part] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def text(self, name: str) -> str:
        return _one_line(self.values.get(name, ""))


@dataclass(frozen=True, kw_only=True, slots=True)
class _Key:
    name: str
    of: str
    default: str | None


def graph_of(root: Element) -> Graph:
    """The one graph of a GraphML document. Faults are gathered in it.

    Raises:
        BadDocument: it is no GraphML, or has no graph or more than one.
    """
    if root.name != "graphml":
        raise BadDocument([Fault(place=root.place, text=f"This is no GraphML: it begins with {shown(root.name)}.")])
    graphs = list(root.named("graph"))
    if len(graphs) != 1:
        raise BadDocument(
            [Fault(place=root.place, text=f"There must be one graph in the file; there are {len(graphs)}.")]
        )
    keys = {
        each.attributes.get("id", ""): _Key(
            name=each.attributes.get("attr.name", each.attributes.get("id", "")),
            of=each.attributes.get("for", "all"),
            default=next((default.text for default in each.named("default")), None),
        )
        for each in root.named("key")
    }
    [graph] = graphs
    made = Graph(values=_values(graph, keys, "graph"))
    directed = 0
    for each in graph.children:
        if each.name == "node":
            made.nodes.append(_node(each, keys, made))
        elif each.name == "edge":
            made.edges.append(_edge(each, keys))
            directed += each.attributes.get("directed", "") == "true" or (
                graph.attributes.get("edgedefault") == "directed" and "directed" not in each.attributes
            )
        elif each.name not in PASSED_OVER:
            made.faults.append(Fault(place=each.place, text=f"A map has no use for a {shown(each.name)}."))
    if directed:
        made.notes.append(f"{directed} edges lead one way in the file; roads are usable both ways.")
    _check(made)
    return made


def _node(element: Element, keys: Mapping[str, _Key], made: Graph) -> Part:
    made.faults += [
        Fault(place=each.place, text="A region cannot hold a map of its own.") for each in element.named("graph")
    ]
    return Part(id=element.attributes.get("id", ""), line=element.line, values=_values(element, keys, "node"))


def _edge(element: Element, keys: Mapping[str, _Key]) -> Part:
    return Part(
        id=element.attributes.get("id", ""),
        line=element.line,
        values=_values(element, keys, "edge"),
        source=element.attributes.get("source", ""),
        target=element.attributes.get("target", ""),
    )


def _values(element: Element, keys: Mapping[str, _Key], kind: str) -> dict[str, str]:
    """Data by attribute name; a key that stands for this kind of part and is left out has its default."""
    found = {key.name: key.default for key in keys.values() if key.default is not None and key.of in {kind, "all"}}
    for each in element.named("data"):
        key = keys.get(each.attributes.get("key", ""))
        found[key.name if key else each.attributes.get("key", "")] = each.text
    return found


def _check(made: Graph) -> None:
    nodes = Counter(each.id for each in made.nodes)
    edges = Counter(each.id for each in made.edges)
    for each in made.nodes:
        if not each.id:
            made.faults.append(Fault(place=f"line {each.line}", text="This node has no id."))
        elif nodes[each.id] > 1:
            made.faults.append(
                Fault(place=f"line {each.line}", text=f"{nodes[each.id]} nodes have the id {shown(each.id)}.")
            )
    for each in made.edges:
        if each.id and edges[each.id] > 1:
            made.faults.append(
                Fault(place=f"line {each.line}", text=f"{edges[each.id]} edges have the id {shown(each.id)}.")
            )
        for end in (each.source, each.target):
            if end not in nodes:
                made.faults.append(
                    Fault(place=f"line {each.line}", text=f"This edge leads to {shown(end)}, which is no node.")
                )
