"""The night document: read, written and planned by.

`read_night` makes a `NightDocument` of JSON or says everything that is wrong with it; `write_night` and `dump_night` make
JSON of it again, in one canonical form, so that equal nights are equal bytes; `asked_of` counts out what its tables need
`night_to_plan` sets that beside what people hold, for the plan, and `purchase_for` says what to buy for what a plan leaves
missing.
"""

from __future__ import annotations

from league.engines.documents.night_faults import asked_at
from league.engines.documents.night_parts import NightDocument, NightTable
from league.engines.documents.night_read import FORMAT, read_night
from league.engines.documents.night_write import dump_night, write_night
from league.engines.kit.buy import buy
from league.engines.kit.model import Night
from league.engines.kit.needs import Asked
from league.engines.kit.night import night_of
from league.engines.kit.offers import Purchase
from league.engines.kit.plan import Plan

__all__ = [
    "FORMAT",
    "NightDocument",
    "NightTable",
    "asked_of",
    "dump_night",
    "night_to_plan",
    "purchase_for",
    "read_night",
    "write_night",
]


def asked_of(document: NightDocument) -> tuple[Asked, ...]:
    """What all the tables need, table by table."""
    return tuple(asked for table in document.tables for asked in asked_at(table))


def night_to_plan(document: NightDocument) -> Night:
    """The demands, uses and supplies that `league.engines.kit.plan.plan_night` takes."""
    return night_of(asked_of(document), document.holdings, document.people, document.packed)


def purchase_for(document: NightDocument, plan: Plan) -> Purchase:
    """What to buy, of the document's packs and within its budget, for what the plan leaves missing."""
    asked = {each.demand.key: each for each in asked_of(document)}
    missing = [(asked[short.demand], short.missing) for short in plan.shortfalls]
    return buy(missing, document.offers, budget_pence=document.budget_pence)
