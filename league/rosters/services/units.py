"""Changing the units of a roster one by one."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.clubs.services.log import log_act
from league.errors import Violation
from league.rosters.models import Roster, Unit
from league.rosters.services.facts import UNITS_MOST, UnitFacts, facts_of, faults_of_units, says_the_same, written
from league.rosters.services.rosters import (
    RosterRefused,
    current_rules,
    lock_roster,
    next_position,
    raise_version,
    write_units,
)

__all__ = ["UnitFacts", "add_unit", "change_unit", "remove_unit"]


@transaction.atomic
def add_unit(roster: Roster, *, facts: UnitFacts, version: int, by: Member) -> Unit:
    """Add a unit at the end of the roster.

    The second arrival of the same request finds the unit it added as the roster's last and returns it.

    Raises:
        NotYoursToDo: neither owner nor organiser, or the roster is retired.
        RosterMovedOn: `version` is not the roster's any more.
        RosterRefused: with everything that cannot be kept.
    """
    roster = lock_roster(roster, by=by)
    held = list(Unit.objects.filter(roster=roster).order_by("position", "pk"))
    if version == roster.version - 1 and held and held[-1].removed_at is None and says_the_same(held[-1], facts):
        return held[-1]
    wrong = faults_of_units([facts], current_rules(roster), under="")
    if len(held) >= UNITS_MOST:
        wrong.append(Violation(_("A roster has at most %(most)s units.") % {"most": UNITS_MOST}, "", "too_many"))
    if wrong:
        raise RosterRefused(wrong)
    raise_version(roster, version)
    unit = write_units(roster, [facts], first=next_position(held))[0]
    log_act(roster.club, "unit_added", roster, by=by, name=roster.name, unit=unit.name)
    return unit


@transaction.atomic
def change_unit(unit: Unit, *, facts: UnitFacts, version: int, by: Member) -> Unit:
    """Write a unit down anew. Its battles stay what they were: each keeps the class and quality of its day.

    Raises:
        NotYoursToDo: neither owner nor organiser, or the roster is retired.
        RosterMovedOn: `version` is not the roster's any more.
        RosterRefused: with everything that cannot be kept.
    """
    roster = lock_roster(unit.roster, by=by)
    unit.refresh_from_db()
    if says_the_same(unit, facts) and unit.removed_at is None:
        return unit
    wrong = faults_of_units([facts], current_rules(roster), was=facts_of(unit), under="")
    if unit.removed_at is not None:
        wrong.append(Violation(_("%(unit)s was taken off the roster.") % {"unit": unit.name}, "", "removed"))
    if wrong:
        raise RosterRefused(wrong)
    raise_version(roster, version)
    for fact, value in written(facts).items():
        setattr(unit, fact, value)
    unit.save(update_fields=list(written(facts)))
    log_act(roster.club, "unit_changed", roster, by=by, name=roster.name, unit=unit.name)
    return unit


@transaction.atomic
def remove_unit(unit: Unit, *, version: int | None = None, by: Member) -> Unit:
    """Take a unit off the roster; its record stays. Removing twice is removing once.

    Raises:
        NotYoursToDo: neither owner nor organiser, or the roster is retired.
        RosterMovedOn: `version`, where given, is not the roster's any more.
    """
    roster = lock_roster(unit.roster, by=by)
    unit.refresh_from_db()
    if unit.removed_at is not None:
        return unit
    raise_version(roster, version)
    unit.removed_at = timezone.now()
    unit.save(update_fields=["removed_at"])
    log_act(roster.club, "unit_removed", roster, by=by, name=roster.name, unit=unit.name)
    return unit
