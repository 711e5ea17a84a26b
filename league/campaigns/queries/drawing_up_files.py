"""Maps as files and as text: read from what somebody pasted or sent, written for other tools."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field

from league.campaigns.models import Campaign, Fact
from league.campaigns.queries.drawing_up import drawn_of
from league.campaigns.queries.facts import as_fact
from league.engines import war
from league.engines.documents.map import MapDocument, dump_graphml, dump_map, read_graphml, read_map
from league.engines.documents.reading import BadDocument, Fault, parse
from league.engines.maps import Map

__all__ = ["ReadMap", "graphml_of", "json_of", "map_of", "map_text", "read_any"]


@dataclass(frozen=True, kw_only=True, slots=True)
class ReadMap:
    """`holders` where the file says who holds what; `notes` are what was made up or left out."""

    map: Map
    holders: Mapping[str, str] | None = None
    notes: tuple[str, ...] = field(default=())


def read_any(data: bytes) -> ReadMap:
    """A map document, a campaign's map part, or GraphML: told apart by how it begins.

    Raises:
        BadDocument: with every fault.
    """
    if not data.strip():
        raise BadDocument([Fault(place="", text="There is nothing in it.")])
    if data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
        told = read_graphml(data)
        return ReadMap(map=told.map, holders=told.holders or None, notes=told.notes)
    document = read_map(parse(data))
    return ReadMap(map=document.map, holders=document.holders or None)


def map_of(campaign: Campaign) -> Map:
    """The map as it is today: that of the beginning, or of the last time it changed under the running war."""
    last = Fact.objects.in_force().filter(campaign=campaign, kind=Fact.Kind.MAP_EDITED).order_by("-sequence").first()
    told = as_fact(last) if last else None
    return told.map if isinstance(told, war.MapEdited) else drawn_of(campaign).map


def json_of(campaign: Campaign) -> bytes:
    """The regions and roads as a map document. Who holds what is not in it: not everybody may know."""
    return dump_map(MapDocument(map=map_of(campaign)))


def graphml_of(campaign: Campaign) -> bytes:
    """The same as GraphML."""
    return dump_graphml(map_of(campaign))


def map_text(of: Map) -> str:
    """A map as its document, without the parts of a war: what the editor works on."""
    whole = json.loads(dump_map(MapDocument(map=of)))
    kept = {key: whole[key] for key in ("format", "name", "regions", "roads")}
    return json.dumps(kept, ensure_ascii=False, indent=1)
