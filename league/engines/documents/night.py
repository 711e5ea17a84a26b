"""The night document: read, written and planned by.

`read_night` makes a `NightDocument` of JSON or says everything that is wrong with it; `write_night` and `dump_night` make
JSON of it again, in one canonical form, so that equal nights are equal bytes; `asked_of` counts out what its tables need
and `night_to_plan` sets that beside what people hold, for the plan.
"""

from __future__ import annotations

from league.engines.documents.night_faults import asked_at
from league.engines.documents.night_parts import NightDocument, NightTable
from league.engines.documents.night_read import FORMAT, read_night
from league.engines.documents.night_write import dump_night, write_night
from league.engines.kit.model import Night
from league.engines.kit.needs import Asked
from league.engines.kit.night import night_of

__all__ = [
    "FORMAT",
    "NightDocument",
    "NightTable",
    "asked_of",
    "dump_night",
    "night_to_plan",
    "read_night",
    "write_night",
]


def asked_of(document: NightDocument) -> tuple[Asked, ...]:
    """What all the tables need, table by table."""
    return tuple(asked for table in document.tables for asked in asked_at(table))


def night_to_plan(document: NightDocument) -> Night:
    """The demands, uses and supplies that `league.engines.kit.plan.plan_night` takes."""
    return night_of(asked_of(document), document.holdings, document.people, document.packed)
