"""The campaign document: a whole war, how it began and every fact since, as one JSON file ("drumhead campaign 1").

`read_campaign` and `write_campaign` are each other's inverse; `read_fact` and `write_fact` do the same for one fact, `read_orders` for
what a player sends. The schema beside it says the shape, `campaign_faults` what must hold across its parts.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from league.engines.documents.campaign_faults import faults_of
from league.engines.documents.campaign_values import Reader, written
from league.engines.documents.reading import BadDocument, Fault, parse
from league.engines.war import Campaign, Fact, Order

__all__ = [
    "FORMAT",
    "CampaignDocument",
    "read_bytes",
    "read_campaign",
    "read_fact",
    "read_orders",
    "write_campaign",
    "write_fact",
    "write_orders",
]

FORMAT = "drumhead campaign 1"


@dataclass(frozen=True, kw_only=True, slots=True)
class CampaignDocument:
    """`facts` in the order of their sequence."""

    campaign: Campaign
    facts: tuple[Fact, ...] = ()


def read_bytes(data: bytes) -> CampaignDocument:
    """A file's content.

    Raises:
        BadDocument: with every fault.
    """
    return read_campaign(parse(data))


def read_campaign(document: Any) -> CampaignDocument:
    """A document out of its JSON.

    Raises:
        BadDocument: with every fault: first in its shape, and if that is right, across its parts.
    """
    if not isinstance(document, dict):
        raise BadDocument([Fault(place="", text="This must be an object.")])
    reader = Reader()
    if "format" not in document:
        reader.fault((), "'format' is missing.")
    elif document["format"] != FORMAT:
        reader.fault(("format",), f"This must be {FORMAT!r}.")
    rest = {key: value for key, value in document.items() if key not in ("format", "facts")}
    campaign = reader.read(rest, Campaign)
    facts = reader.read(document.get("facts", []), tuple[Fact, ...], ("facts",))
    if reader.faults:
        raise BadDocument(reader.faults)
    faults = faults_of(campaign, facts)
    if faults:
        raise BadDocument(faults)
    return CampaignDocument(campaign=campaign, facts=tuple(sorted(facts, key=lambda each: each.sequence)))


def write_campaign(campaign: Campaign, facts: Iterable[Fact] = ()) -> dict[str, Any]:
    """The inverse of `read_campaign`; facts in the order of their sequence. Fields that have their default are left out."""
    ordered = sorted(facts, key=lambda each: each.sequence)
    told: dict[str, Any] = {"format": FORMAT, **written(campaign, Campaign)}
    if ordered:
        told["facts"] = [write_fact(each) for each in ordered]
    return told


def read_fact(data: Any) -> Fact:
    """One fact on its own, with its `kind`.

    Raises:
        BadDocument: with every fault of its shape.
    """
    fact: Fact = _read(data, Fact)
    return fact


def write_fact(fact: Fact) -> dict[str, Any]:
    """The inverse of `read_fact`."""
    told: dict[str, Any] = written(fact, Fact)
    return told


def read_orders(data: Any) -> tuple[Order, ...]:
    """A list of orders, each with its `kind`.

    Raises:
        BadDocument: with every fault of its shape.
    """
    orders: tuple[Order, ...] = _read(data, tuple[Order, ...])
    return orders


def write_orders(orders: Iterable[Order]) -> list[dict[str, Any]]:
    """The inverse of `read_orders`."""
    told: list[dict[str, Any]] = written(tuple(orders), tuple[Order, ...])
    return told


def _read(data: Any, shape: Any) -> Any:
    reader = Reader()
    value = reader.read(data, shape)
    if reader.faults:
        raise BadDocument(reader.faults)
    return value
