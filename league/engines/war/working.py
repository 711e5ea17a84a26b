"""A turn in the making: the one mutable thing of the fold, thrown away once the turn's state is made of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

from league.engines.maps import Map, Region, Road
from league.engines.rulesets import UnitId
from league.engines.strength import Engagement, Muster, after, fresh
from league.engines.supply import Distribution
from league.engines.war.model import Campaign, FactId, Force, OrderSet
from league.engines.war.state import (
    Battle,
    Change,
    Ended,
    Entry,
    ForceState,
    Kind,
    Known,
    Phase,
    RollNeeded,
    TurnState,
)

__all__ = ["Chart", "Working", "chart_of", "entered"]

HUNDRED = 100


@dataclass(frozen=True, kw_only=True, slots=True)
class Chart:
    """A map, ready to be asked."""

    regions: dict[str, Region]
    roads: dict[str, Road]
    roads_at: dict[str, tuple[Road, ...]]


@lru_cache(maxsize=8)
def chart_of(of: Map) -> Chart:
    return Chart(regions=of.region_by_key(), roads={each.key: each for each in of.roads}, roads_at=of.roads_by_region())


def entered(force: Force, campaign: Campaign) -> ForceState:
    """A force as it enters the war."""
    return ForceState(
        key=force.key,
        name=force.name,
        faction=force.faction,
        region=force.region,
        units=force.units,
        states={unit.id: fresh(unit, campaign.ruleset) for unit in force.units},
        need=force.need,
        pace=force.pace,
        dug_in=force.dug_in,
    )


@dataclass(slots=True)
class Working:
    campaign: Campaign
    turn: int
    map: Map
    control: dict[str, str]
    forces: dict[str, ForceState]
    depots: dict[str, str]
    balances: dict[tuple[str, str], int]
    points: dict[str, int]
    battles: dict[str, Battle] = field(default_factory=dict)
    supply: dict[str, Distribution] = field(default_factory=dict)
    orders: dict[str, OrderSet] = field(default_factory=dict)
    entries: list[Entry] = field(default_factory=list)
    changes: list[Change] = field(default_factory=list)
    rolls_needed: list[RollNeeded] = field(default_factory=list)
    musters: list[tuple[str, Muster]] = field(default_factory=list)
    ended: Ended | None = None

    @classmethod
    def next_after(cls, campaign: Campaign, state: TurnState) -> Working:
        """The turn after a closed one: battles still open go on, what was fought is history."""
        return cls(
            campaign=campaign,
            turn=state.turn + 1,
            map=state.map,
            control=dict(state.control),
            forces={key: replace(each, came_from="") for key, each in state.forces.items()},
            depots=dict(state.depots),
            balances=dict(state.balances),
            points=dict(state.points),
            battles={each.id: replace(each, postponed=False) for each in state.battles if each.outcome is None},
        )

    @property
    def chart(self) -> Chart:
        return chart_of(self.map)

    def frozen(self, phase: Phase) -> TurnState:
        return TurnState(
            turn=self.turn,
            phase=phase,
            map=self.map,
            control=dict(self.control),
            forces=dict(self.forces),
            depots=dict(self.depots),
            balances={key: amount for key, amount in self.balances.items() if amount},
            points=dict(self.points),
            battles=tuple(self.battles.values()),
            supply=dict(self.supply),
            orders=dict(self.orders),
            entries=tuple(self.entries),
            changes=tuple(self.changes),
            rolls_needed=tuple(self.rolls_needed),
            musters=tuple(self.musters),
            ended=self.ended,
        )

    # What happened.

    def note(
        self,
        what: str,
        *,
        known: Known,
        region: str = "",
        faction: str = "",
        force: str = "",
        because: Iterable[FactId] = (),
        **args: Any,
    ) -> None:
        self.changes.append(
            Change(
                turn=self.turn,
                what=what,
                known=known,
                args=args,
                region=region,
                faction=faction,
                force=force,
                because=tuple(because),
            )
        )

    def note_of(self, force: ForceState, what: str, *, known: Known = "side", **args: Any) -> None:
        """Something that happened to a force, where it stands."""
        self.note(what, known=known, region=force.region, faction=force.faction, force=force.key, **args)

    # The book of stocks.

    def book(self, kind: Kind, region: str, faction: str, amount_x100: int, about: str = "") -> None:
        if amount_x100:
            self.entries.append(
                Entry(turn=self.turn, kind=kind, region=region, faction=faction, amount_x100=amount_x100, about=about)
            )
            self.balances[region, faction] = self.balances.get((region, faction), 0) + amount_x100

    def stock(self, region: str, faction: str) -> int:
        """Hundredths of a load."""
        return self.balances.get((region, faction), 0)

    def keeps(self, region: str, faction: str) -> bool:
        """Whether there is a place for supply: a depot of the faction's, or a source it holds."""
        place = self.chart.regions.get(region)
        source = bool(place and place.produces and self.control.get(region) == faction)
        return source or self.depots.get(region) == faction

    # Forces.

    def change(self, key: str, **fields: Any) -> ForceState:
        self.forces[key] = replace(self.forces[key], **fields)
        return self.forces[key]

    def standing(self) -> Iterator[ForceState]:
        return (each for each in self.forces.values() if not each.gone)

    def befall(self, key: str, event: Engagement | Muster, *, only: UnitId | None = None) -> ForceState:
        """One event on the record of a force's units: of all, or of the only one it concerns."""
        force = self.forces[key]
        ruleset = self.campaign.ruleset
        states = {
            unit.id: after(force.states[unit.id], unit, event, ruleset)
            if only is None or unit.id == only
            else force.states[unit.id]
            for unit in force.units
        }
        return self.change(key, states=states)

    def muster(self, force: str, unit: UnitId, why: str, *, joined: int = 0, left: int = 0) -> None:
        """Recruits, or the hungry who leave, between battles."""
        roll_call = Muster(
            id=f"{self.turn}/{force}/{unit}/{why}", sequence=self.turn, unit_id=unit, joined=joined, left=left
        )
        self.befall(force, roll_call, only=unit)
        self.musters.append((force, roll_call))

    @property
    def control_known(self) -> Known:
        return "all" if self.campaign.rules.fog.control == "all" else "region"

    @property
    def battles_known(self) -> Known:
        return "all" if self.campaign.rules.fog.battles == "all" else "region"

    def hostile(self, one: str, other: str) -> bool:
        return self.campaign.hostile(one, other)

    def in_regions(self) -> dict[str, list[ForceState]]:
        """Who stands in each region; those caught on a road stand in none."""
        found: dict[str, list[ForceState]] = {}
        for force in self.standing():
            if not force.road:
                found.setdefault(force.region, []).append(force)
        return found

    def contested(self) -> frozenset[str]:
        return frozenset(each.region for each in self.battles.values() if not each.road and each.outcome is None)
