"""What a faction may order: every choice offered is legal as the war stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from league.campaigns.models import Fact
from league.campaigns.queries.facts import as_fact
from league.campaigns.queries.play_page import loads
from league.campaigns.queries.seen import Seen
from league.engines import war
from league.engines.war.orders import by_order
from league.engines.war.working import chart_of

__all__ = ["Desk", "ForceChoices", "Recruits", "desk_of", "given_by"]

HUNDRED = 100
MOST_WAYS = 60


@dataclass(frozen=True, kw_only=True, slots=True)
class Recruits:
    """A unit that has places to fill: how many, and what one recruit costs in words."""

    unit_id: int | str
    name: str
    places: int
    price: str


@dataclass(frozen=True, kw_only=True, slots=True)
class ForceChoices:
    """`ways` are (roads joined by spaces, words) of every region the force can march to."""

    key: str
    name: str
    where: str
    figures: int
    condition: str
    is_locked: bool
    ways: tuple[tuple[str, str], ...]
    can_dig_in: bool
    recruits: tuple[Recruits, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Desk:
    """`sources` are where supply can be sent from with what lies there, `places` where to, `sites` where a depot may
    be built."""

    turn: int
    faction: str
    name: str
    forces: tuple[ForceChoices, ...]
    sites: tuple[tuple[str, str], ...]
    sources: tuple[tuple[str, str], ...]
    places: tuple[tuple[str, str], ...]
    depot_price: int
    given: war.OrderSet | None


def desk_of(seen: Seen, faction: str) -> Desk:
    """Everything the leaders of a faction can order this turn, and what they have ordered so far."""
    chooser = _Chooser(seen, faction)
    return Desk(
        turn=seen.war.turn,
        faction=faction,
        name=seen.factions[faction],
        forces=tuple(chooser.force(each) for each in seen.war.now.standing if each.faction == faction),
        sites=tuple(chooser.sites()),
        sources=tuple(chooser.sources()),
        places=tuple(chooser.places()),
        depot_price=seen.war.began.rules.depot_price,
        given=given_by(seen, faction),
    )


def given_by(seen: Seen, faction: str) -> war.OrderSet | None:
    """The last set the faction gave for the turn being planned."""
    sets = [
        row
        for row in seen.war.rows
        if row.kind == Fact.Kind.ORDERS and row.turn == seen.war.turn and row.faction == faction
    ]
    if not sets:
        return None
    found = as_fact(sets[-1])
    return found if isinstance(found, war.OrderSet) else None


class _Chooser:
    def __init__(self, seen: Seen, faction: str) -> None:
        self.seen, self.faction = seen, faction
        self.war, self.state = seen.war, seen.war.now
        self.rules = self.war.began.rules

    def allows(self, *orders: war.Order) -> list[bool]:
        """Of each order alone, whether it is legal."""
        found = []
        for each in orders:
            given = war.OrderSet(id=0, sequence=0, turn=self.war.turn, faction=self.faction, orders=(each,))
            found.append(not by_order(self.war.began, self.state, given))
        return found

    def force(self, force: war.ForceState) -> ForceChoices:
        return ForceChoices(
            key=force.key,
            name=force.name,
            where=self.seen.regions.get(force.region, force.region),
            figures=force.present,
            condition=force.condition,
            is_locked=bool(force.battle),
            ways=tuple(self.ways(force)),
            can_dig_in=not force.dug_in and self.allows(war.DigIn(force=force.key))[0],
            recruits=tuple(self.recruits(force)),
        )

    def ways(self, force: war.ForceState) -> Iterator[tuple[str, str]]:
        """The shortest way to each region within the force's pace, legal ones only."""
        chart = chart_of(self.state.map)
        found: dict[str, tuple[str, ...]] = {force.region: ()}
        ring = [force.region]
        for _step in range(force.pace):
            beyond = []
            for here in ring:
                for road in chart.roads_at.get(here, ()):
                    there = road.other(here)
                    if there not in found:
                        found[there] = (*found[here], road.key)
                        beyond.append(there)
            ring = beyond
        moves = {there: war.Move(force=force.key, roads=roads) for there, roads in found.items() if roads}
        legal = self.allows(*moves.values())
        for (there, move), fine in list(zip(moves.items(), legal, strict=True))[:MOST_WAYS]:
            if fine:
                name = self.seen.regions.get(there, there)
                words = ngettext("March to %(place)s", "March to %(place)s, %(steps)s roads", len(move.roads))
                yield " ".join(move.roads), words % {"place": name, "steps": len(move.roads)}

    def recruits(self, force: war.ForceState) -> Iterator[Recruits]:
        for unit in force.units:
            places = force.states[unit.id].lost
            price = self.rules.price_x100(unit.unit_class, unit.quality)
            if not places or price is None:
                continue
            one = war.Rebuild(force=force.key, replacements=(war.Replacement(unit_id=unit.id, figures=1),))
            if self.allows(one)[0]:
                yield Recruits(
                    unit_id=unit.id,
                    name=self.seen.unit_names.get(unit.id, str(unit.id)),
                    places=places,
                    price=loads(price),
                )

    def sites(self) -> Iterator[tuple[str, str]]:
        held = [region for region, holder in self.state.control.items() if holder == self.faction]
        orders = [war.BuildDepot(region=region) for region in held]
        for region, fine in zip(held, self.allows(*orders), strict=True):
            if fine:
                yield region, self.seen.regions.get(region, region)

    def sources(self) -> Iterator[tuple[str, str]]:
        """Stocks of one's own, with what a source there will have yielded."""
        chart = chart_of(self.state.map)
        for region, name in self.places():
            here = chart.regions[region]
            mine = self.state.control.get(region) == self.faction
            there = self.state.balances.get((region, self.faction), 0) // HUNDRED + (here.produces if mine else 0)
            if there:
                yield region, _("%(place)s: %(loads)s loads") % {"place": name, "loads": there}

    def places(self) -> Iterator[tuple[str, str]]:
        chart = chart_of(self.state.map)
        for region, place in chart.regions.items():
            source = place.produces and self.state.control.get(region) == self.faction
            if source or self.state.depots.get(region) == self.faction:
                yield region, self.seen.regions.get(region, region)
