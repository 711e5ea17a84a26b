"""A night's plan in its parts, for those who read it without a page."""

from __future__ import annotations

from dataclasses import dataclass

from league.clubs.models import Member, Night
from league.engines.kit.model import Carrier
from league.engines.kit.plan import Value
from league.stores.queries.lists import PackingList, Short, TableList, packing_lists, shortfalls, table_lists
from league.stores.queries.plan import plan_for

__all__ = ["NightParts", "night_parts", "packing_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class NightParts:
    """`values`: what the plan costs by each criterion, with what is proven; `people`: those who said they come."""

    night: int
    is_proven: bool
    values: tuple[Value, ...]
    people: tuple[Carrier, ...]
    tables: tuple[TableList, ...]
    shortfalls: tuple[Short, ...]
    packing_lists: tuple[PackingList, ...]


def night_parts(night: Night) -> NightParts:
    """The queries of the plan, and no more."""
    planned = plan_for(night)
    return NightParts(
        night=night.pk,
        is_proven=planned.plan.proven,
        values=planned.plan.values,
        people=planned.carriers,
        tables=table_lists(planned),
        shortfalls=shortfalls(planned),
        packing_lists=packing_lists(planned),
    )


def packing_of(night: Night, who: Member) -> PackingList:
    """What one member packs; an empty list where nothing is asked of them."""
    found = (each for each in packing_lists(plan_for(night)) if each.member == who.pk)
    return next(found, PackingList(member=who.pk, name=who.name, lines=(), carries_most_ml=None))
