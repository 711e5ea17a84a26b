"""What a night needs, what there is, and who brings what: gathered in a fixed number of queries, planned, and kept.

A plan is stored nowhere. It is reckoned from the games, rosters, holdings, loans, promises and answers as they are,
and kept in the cache under a digest of all that, so that a page that is looked at again plans nothing anew.
"""

from __future__ import annotations

import hashlib
from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from typing import Final, cast

from django.core.cache import cache
from django.utils import timezone

from league.clubs.models import Night
from league.engines.kit import model
from league.engines.kit.model import Carrier
from league.engines.kit.needs import Asked
from league.engines.kit.night import night_of
from league.engines.kit.plan import Plan, plan_night
from league.stores.models import Promise
from league.stores.queries.peaks import reported_peaks
from league.stores.queries.supplies import AtHand, at_hand_for, carriers_of, packed_in, promises_of
from league.stores.queries.tonight import TableTonight, tables_of_night

__all__ = ["NightPlan", "plan_for"]

# Names the way of reckoning: with another one, what was kept before is not looked at.
KIND: Final = "drumhead kit plan 1"
KEPT_FOR: Final = 24 * 60 * 60
SECONDS: Final = 5.0


@dataclass(frozen=True, kw_only=True, slots=True)
class NightPlan:
    """A night with its tables, those who come, what they can bring, what they promised, and the plan."""

    night: Night
    tables: tuple[TableTonight, ...]
    carriers: tuple[Carrier, ...]
    at_hand: tuple[AtHand, ...]
    promises: tuple[Promise, ...]
    plan: Plan

    @property
    def asked(self) -> tuple[Asked, ...]:
        return tuple(each for table in self.tables for each in table.asked)


def plan_for(night: Night, *, today: date | None = None) -> NightPlan:
    """The plan of a night as things stand; `night` with its club. The number of queries is fixed."""
    today = today or timezone.localdate(timezone=night.club.zone)
    tables = tables_of_night(night, reported_peaks(night.club))
    players: defaultdict[int, list[str]] = defaultdict(list)
    for table in tables:
        for member in table.players:
            players[member].append(table.key)
    promises = promises_of(night)
    packers = {promise.member_id for promise in promises if promise.packed_at}
    carriers = carriers_of(night, {pk: tuple(keys) for pk, keys in players.items()}, packers)
    at_hand = at_hand_for(night, carriers, promises, today=today)
    asked = [each for table in tables for each in table.asked]
    values = night_of(asked, [each.supply for each in at_hand], carriers, packed_in(promises))
    return NightPlan(
        night=night,
        tables=tables,
        carriers=carriers,
        at_hand=at_hand,
        promises=tuple(promises),
        plan=planned(values),
    )


def planned(values: model.Night) -> Plan:
    """The plan of these values, reckoned once a day at most."""
    digest = hashlib.sha256(f"{KIND} {values!r}".encode()).hexdigest()
    key = f"kit-plan-{digest}"
    return cast("Plan", cache.get_or_set(key, lambda: plan_night(values, seconds=SECONDS), KEPT_FOR))
