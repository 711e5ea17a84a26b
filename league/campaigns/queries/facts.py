"""The facts of a campaign as the war engine takes them.

A row keeps what every fact has (its place, its turn, what it supersedes) in columns and the rest in `data`, as
`league.engines.documents.campaign` writes it.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from league.campaigns.models import Campaign, Fact
from league.engines import war
from league.engines.documents.campaign import read_fact, write_fact

__all__ = ["KIND_OF", "as_data", "as_fact", "fact_rows", "facts_of"]

COLUMNS = ("id", "sequence", "turn", "supersedes")

KIND_OF: dict[type[war.Fact], Fact.Kind] = {
    war.OrderSet: Fact.Kind.ORDERS,
    war.TurnSeed: Fact.Kind.SEED,
    war.Revealed: Fact.Kind.REVEALED,
    war.BattleOutcome: Fact.Kind.OUTCOME,
    war.Postponed: Fact.Kind.POSTPONED,
    war.Roll: Fact.Kind.ROLL,
    war.OutsideBattle: Fact.Kind.OUTSIDE,
    war.Ruling: Fact.Kind.RULING,
    war.Settlement: Fact.Kind.SETTLEMENT,
    war.MapEdited: Fact.Kind.MAP_EDITED,
    war.Closed: Fact.Kind.CLOSED,
}


def fact_rows(campaign: Campaign) -> list[Fact]:
    """Every fact there ever was, in the server's order: one query."""
    return list(Fact.objects.filter(campaign=campaign).order_by("sequence"))


def facts_of(campaign: Campaign) -> tuple[war.Fact, ...]:
    return tuple(as_fact(row) for row in fact_rows(campaign))


def as_fact(row: Fact) -> war.Fact:
    columns = {"id": row.pk, "sequence": row.sequence, "turn": row.turn, "supersedes": row.supersedes_id}
    return read_fact({**row.data, **columns})


def as_data(fact: war.Fact) -> dict[str, Any]:
    """What a row keeps in `data`: the fact's document without what stands in columns."""
    return {key: value for key, value in write_fact(fact).items() if key not in COLUMNS}


def current_turn(rows: Iterable[Fact]) -> int:
    """The turn being played: the one after the last that was closed."""
    return max((row.turn for row in rows if row.kind == Fact.Kind.CLOSED), default=0) + 1
