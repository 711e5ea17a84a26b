"""What a planned game is made of, and what can be wrong with it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from django.utils.translation import gettext as _

from league.clubs.models import Club, Member, Night, Table
from league.engines.rulesets import Scenario
from league.errors import Violation
from league.rosters.models import Roster
from league.rulesets.models import Edition
from league.rulesets.queries import rules_of

__all__ = ["GamePlan", "SidePlan", "faults_of_plan", "faults_of_plans", "scenario_of"]

NOTE_MOST = 2000


@dataclass(frozen=True, kw_only=True, slots=True)
class SidePlan:
    """One side of a game to be: its role (a key of the scenario's sides, or empty), its players, its force."""

    member_ids: Sequence[int]
    role: str = ""
    roster_id: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class GamePlan:
    """A whole game to be; `sides` in the order of their positions, which count from one."""

    edition: Edition
    on: date
    sides: Sequence[SidePlan]
    scenario: str = ""
    night: Night | None = None
    table: Table | None = None
    note: str = ""

    def facts(self) -> dict[str, object]:
        """The plan as plain values, for telling whether two submissions say the same."""
        return {
            "edition": self.edition.pk,
            "scenario": self.scenario,
            "on": self.on,
            "sides": [[side.role, sorted(side.member_ids), side.roster_id] for side in self.sides],
            "night": self.night.pk if self.night else None,
            "table": self.table.pk if self.table else None,
            "note": self.note,
        }


@dataclass(frozen=True, kw_only=True, slots=True)
class Known:
    """The rows of the club that a plan speaks of; whatever is missing here is not the club's."""

    members: dict[int, Member] = field(default_factory=dict)
    rosters: dict[int, Roster] = field(default_factory=dict)


def faults_of_plan(club: Club, plan: GamePlan) -> list[Violation]:
    """Everything that is wrong with the plan, in three queries at most."""
    return faults_of_plans(club, [plan])


def faults_of_plans(club: Club, plans: Collection[GamePlan]) -> list[Violation]:
    """Everything that is wrong with any of the plans, in three queries at most, however many they are."""
    sides = [side for plan in plans for side in plan.sides]
    known = Known(
        members=Member.objects.present()
        .filter(club=club)
        .in_bulk({member_id for side in sides for member_id in side.member_ids}),
        rosters=Roster.objects.filter(club=club, retired_at=None).in_bulk(
            {side.roster_id for side in sides if side.roster_id}
        ),
    )
    return [
        fault
        for plan in plans
        for fault in (
            *faults_of_setting(club, plan),
            *faults_of_place(club, plan),
            *faults_of_players(plan, known),
            *faults_of_roles(plan),
            *faults_of_rosters(plan, known),
        )
    ]


def faults_of_setting(club: Club, plan: GamePlan) -> Iterator[Violation]:
    ruleset = plan.edition.ruleset
    if ruleset.club_id != club.pk:
        yield Violation(_("This ruleset is not one of the club's."), "ruleset", "not_of_club")
    elif ruleset.retired_at is not None:
        yield Violation(_("The club no longer plays by %(name)s.") % {"name": ruleset.name}, "ruleset", "retired")
    if plan.scenario and scenario_of(plan) is None:
        yield Violation(_("The ruleset has no such scenario."), "scenario", "unknown_scenario")
    if len(plan.note) > NOTE_MOST:
        yield Violation(_("Keep the note under %(most)s characters.") % {"most": NOTE_MOST}, "note", "too_long")


def faults_of_place(club: Club, plan: GamePlan) -> Iterator[Violation]:
    night, table = plan.night, plan.table
    if night is not None and night.club_id != club.pk:
        yield Violation(_("This night is not one of the club's."), "night", "not_of_club")
    elif night is not None and night.cancelled_at is not None:
        yield Violation(_("This night was called off."), "night", "night_cancelled")
    elif night is not None and night.on != plan.on:
        yield Violation(_("The night is on another day than the game."), "on", "not_on_the_night")
    if table is not None and table.venue.club_id != club.pk:
        yield Violation(_("This table is not one of the club's."), "table", "not_of_club")
    elif table is not None and night is not None and table.venue_id != night.venue_id:
        yield Violation(_("The table stands in another venue than the night's."), "table", "table_elsewhere")


def faults_of_players(plan: GamePlan, known: Known) -> Iterator[Violation]:
    if len(plan.sides) < 2:  # noqa: PLR2004 - a battle takes two
        yield Violation(_("A game has two sides or more."), "sides", "too_few_sides")
    for index, side in enumerate(plan.sides):
        field_name = f"sides.{index}.member_ids"
        if not side.member_ids:
            yield Violation(_("Say who plays on side %(number)s.") % {"number": index + 1}, field_name, "no_players")
        if any(member_id not in known.members for member_id in side.member_ids):
            yield Violation(_("Somebody on this side is not in the club."), field_name, "not_of_club")
    seats = Counter(member_id for side in plan.sides for member_id in side.member_ids)
    for member_id, times in seats.items():
        if times > 1 and member_id in known.members:
            yield Violation(
                _("%(name)s can play once in a game only.") % {"name": known.members[member_id].name},
                "sides",
                "plays_twice",
            )


def faults_of_roles(plan: GamePlan) -> Iterator[Violation]:
    scenario = scenario_of(plan)
    if scenario and len(plan.sides) != len(scenario.sides):
        words = _("%(scenario)s is fought by %(count)s sides.")
        args = {"scenario": scenario.name, "count": len(scenario.sides)}
        yield Violation(words % args, "sides", "wrong_number_of_sides")
    roles = {side.key for side in scenario.sides} if scenario else set()
    for index, side in enumerate(plan.sides):
        if side.role and side.role not in roles:
            yield Violation(_("The scenario has no such side."), f"sides.{index}.role", "unknown_role")


def faults_of_rosters(plan: GamePlan, known: Known) -> Iterator[Violation]:
    led: set[int] = set()
    for index, side in enumerate(plan.sides):
        if side.roster_id is None:
            continue
        field_name = f"sides.{index}.roster_id"
        roster = known.rosters.get(side.roster_id)
        if roster is None:
            yield Violation(_("The club has no such roster."), field_name, "not_of_club")
            continue
        if roster.ruleset_id != plan.edition.ruleset_id:
            yield Violation(_("%(name)s is a roster of another ruleset.") % {"name": roster}, field_name, "other_rules")
        if roster.owner_id not in side.member_ids:
            yield Violation(
                _("%(name)s can take the field only with its owner on this side.") % {"name": roster},
                field_name,
                "not_the_owners_side",
            )
        if roster.pk in led:
            yield Violation(_("%(name)s can stand on one side only.") % {"name": roster}, field_name, "roster_twice")
        led.add(roster.pk)


def scenario_of(plan: GamePlan) -> Scenario | None:
    return rules_of(plan.edition).scenario(plan.scenario) if plan.scenario else None
