"""A battle of the war as a game to be planned: who plays, with which rosters, in which roles, by which scenario."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from league.battles.services.plans import SidePlan
from league.campaigns.models import Campaign, Enlisted
from league.campaigns.queries.war import War
from league.engines import war
from league.engines.rulesets import Scenario
from league.rosters.models import Roster

__all__ = ["Booking", "booking_of", "rosters_by_force"]

TWO = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Booking:
    """`obstacle` says why no game can be booked; then the umpire tells or resolves the battle otherwise."""

    battle: war.Battle
    scenario: str = ""
    sides: tuple[SidePlan, ...] = ()
    obstacle: str = ""


def rosters_by_force(campaign: Campaign) -> dict[str, Roster]:
    rows = Enlisted.objects.filter(campaign=campaign).select_related("roster").order_by("pk")
    return {row.force: row.roster for row in rows}


def booking_of(now: War, battle: war.Battle, rosters: Mapping[str, Roster], *, scenario: str | None = None) -> Booking:
    """A side of the game for each force, led by its roster's owner; attackers first.

    The scenario is the first that suits the ground and the number of sides, unless one is named.
    """
    forces = [key for side in battle.sides for key in side.forces]
    if any(key not in rosters for key in forces):
        return Booking(battle=battle, obstacle=_("A force in this battle has no roster."))
    if not battle.rolled:
        return Booking(battle=battle, obstacle=_("Who attacks is decided by dice that nobody has rolled yet."))
    owners = [rosters[key].owner_id for key in forces]
    if len(set(owners)) < len(owners):
        return Booking(battle=battle, obstacle=_("One player leads several forces in this battle."))
    chosen = _scenario(now.began, battle, len(forces), scenario)
    roles = _roles(battle, chosen)
    return Booking(
        battle=battle,
        scenario=chosen.key if chosen else "",
        sides=tuple(
            SidePlan(member_ids=[owner], role=role, roster_id=rosters[key].pk)
            for key, owner, role in zip(forces, owners, roles, strict=True)
        ),
    )


def _scenario(began: war.Campaign, battle: war.Battle, sides: int, wanted: str | None) -> Scenario | None:
    keys: Sequence[str] = battle.scenarios if wanted is None else [wanted]
    for key in keys:
        found = began.ruleset.scenario(key)
        if found and len(found.sides) == sides:
            return found
    return None


def _roles(battle: war.Battle, scenario: Scenario | None) -> list[str]:
    """The scenario's side of the same name as the map's role, or else in the order in which both are listed."""
    count = sum(len(side.forces) for side in battle.sides)
    if scenario is None or count != TWO or len(battle.sides) != TWO:
        return [""] * count
    keys = [side.key for side in scenario.sides]
    named: list[str] = [side.role for side in battle.sides]
    return named if set(named) == set(keys) else keys
