"""JSON out: the one canonical form of a map document."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from league.engines.documents.map_parts import MapDocument
from league.engines.documents.map_read import FORMAT
from league.engines.documents.reading import in_schema_order, schema_of

__all__ = ["dump_map", "write_map"]


def dump_map(document: MapDocument) -> bytes:
    """The document as bytes: keys in the schema's order, two spaces of indent, UTF-8, one line feed at the end."""
    return (json.dumps(write_map(document), indent=2, ensure_ascii=False) + "\n").encode()


def write_map(document: MapDocument) -> dict[str, Any]:
    """The map as plain JSON values, keys in the schema's order; every property is said.

    The fields of these values bear the names that the schema gives them, and all are plain.
    """
    told = {
        "format": FORMAT,
        "name": document.map.name,
        "regions": [asdict(each) for each in document.map.regions],
        "roads": [asdict(each) for each in document.map.roads],
        "factions": [asdict(each) for each in document.factions],
        "holders": dict(document.holders),
        "contested": list(document.contested),
        "stocks": [asdict(each) for each in document.stocks],
        "forces": [asdict(each) for each in document.forces],
        "sendings": [asdict(each) for each in document.sendings],
    }
    schema = schema_of("map")
    ordered: dict[str, Any] = in_schema_order(told, schema, schema)
    return ordered
