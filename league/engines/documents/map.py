"""The map document: read and written, as JSON and as GraphML.

`read_map` makes a `MapDocument` of JSON or says everything that is wrong with it; `write_map` and `dump_map` make JSON
of it again, in one canonical form, so that equal maps are equal bytes. `read_graphml` and `dump_graphml` do the
same for the regions and roads alone, with what other tools draw.
"""

from __future__ import annotations

from league.engines.documents.map_graphml import GraphmlMap, dump_graphml, read_graphml
from league.engines.documents.map_parts import MapDocument
from league.engines.documents.map_read import FORMAT, read_map, unready
from league.engines.documents.map_write import dump_map, write_map

__all__ = [
    "FORMAT",
    "GraphmlMap",
    "MapDocument",
    "dump_graphml",
    "dump_map",
    "read_graphml",
    "read_map",
    "unready",
    "write_map",
]
