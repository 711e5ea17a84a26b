"""Rosters that enter a war as its forces."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import replace

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Enlisted
from league.campaigns.queries.drawing_up import drawn_of
from league.campaigns.services.campaigns import CampaignRefused
from league.campaigns.services.drawing_up import KEY_MOST, being_drawn_up, free_key, write_beginning
from league.clubs.models import Member
from league.engines import war
from league.engines.rulesets import Ruleset
from league.engines.strength import RosterUnit
from league.errors import Violation
from league.rosters.models import Roster, Unit
from league.rosters.queries.states import unit_as_listed
from league.rulesets.queries import rules_of

__all__ = [
    "change_force",
    "discharge",
    "enlist",
    "faults_of_numbers",
    "faults_of_roster",
    "free_name",
    "units_as_listed",
]

KEY = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*")
NEED_MOST, PACE_MOST = 1_000_000, 20


@transaction.atomic
def enlist(
    campaign: Campaign,
    *,
    roster: Roster,
    faction: str,
    region: str,
    need: int,
    pace: int = 1,
    key: str = "",
    version: int | None = None,
    by: Member,
) -> Enlisted:
    """Let a roster fight in the war as a force of `faction` that begins in `region`.

    `need` is the loads of supply it wants a turn, `pace` how many roads it may follow in one; without `key` it gets
    one. Its units are written down as they stand today, and again when the war starts. Enlisting a roster a second
    time is enlisting it once.

    Raises:
        NotYoursToDo, CampaignMovedOn
        CampaignRefused: with everything that is wrong.
    """
    current = being_drawn_up(campaign, by=by)
    if there := Enlisted.objects.filter(campaign=current, roster=roster).first():
        return there
    began = drawn_of(current)
    faults = [*faults_of_roster(current, roster, rules_of(current.edition)), *_of_places(began, faction, region)]
    faults += [*faults_of_numbers(need, pace), *_of_key(began, key)]
    if faults:
        raise CampaignRefused(faults)
    force = war.Force(
        key=key or free_key(roster.name, (each.key for each in began.forces), "force"),
        name=free_name(roster.name, {each.name for each in began.forces}),
        faction=faction,
        region=region,
        units=units_as_listed(roster),
        need=need,
        pace=pace,
    )
    changed = replace(began, forces=(*began.forces, force))
    write_beginning(current, changed, act="roster_enlisted", version=version, by=by, name=force.name)
    return Enlisted.objects.create(campaign=current, force=force.key, roster=roster, at=timezone.now())


def free_name(name: str, taken: Collection[str]) -> str:
    """Two forces of one name are told apart by a number."""
    made, number = name, 1
    while made in taken:
        number += 1
        made = f"{name} ({number})"
    return made


@transaction.atomic
def change_force(
    campaign: Campaign,
    *,
    force: str,
    faction: str,
    region: str,
    need: int,
    pace: int,
    version: int | None = None,
    by: Member,
) -> Campaign:
    """Let a force begin for another faction, elsewhere, or with another need or pace.

    Raises:
        NotYoursToDo, CampaignMovedOn, CampaignRefused
    """
    current = being_drawn_up(campaign, by=by)
    began = drawn_of(current)
    faults = [*_of_places(began, faction, region), *faults_of_numbers(need, pace)]
    if not any(each.key == force for each in began.forces):
        faults.append(Violation(_("There is no such force."), "force", "unknown_force"))
    if faults:
        raise CampaignRefused(faults)
    changed = replace(
        began,
        forces=tuple(
            replace(each, faction=faction, region=region, need=need, pace=pace) if each.key == force else each
            for each in began.forces
        ),
    )
    return write_beginning(current, changed, act="force_changed", version=version, by=by, name=_named(began, force))


@transaction.atomic
def discharge(campaign: Campaign, *, force: str, version: int | None = None, by: Member) -> Campaign:
    """Take a force out of the war before it starts. Twice is once.

    Raises:
        NotYoursToDo, CampaignMovedOn
    """
    current = being_drawn_up(campaign, by=by)
    began = drawn_of(current)
    Enlisted.objects.filter(campaign=current, force=force).delete()  # nothing has happened yet that this would unsay
    changed = replace(began, forces=tuple(each for each in began.forces if each.key != force))
    return write_beginning(current, changed, act="force_discharged", version=version, by=by, name=_named(began, force))


def _named(began: war.Campaign, force: str) -> str:
    return next((each.name for each in began.forces if each.key == force), force)


def units_as_listed(roster: Roster) -> tuple[RosterUnit, ...]:
    """A roster's units at their establishment, those removed left out."""
    rows = Unit.objects.filter(roster=roster, removed_at=None).order_by("position", "pk")
    return tuple(unit_as_listed(row) for row in rows)


def faults_of_roster(campaign: Campaign, roster: Roster, rules: Ruleset) -> list[Violation]:
    """What keeps a roster out of this war."""
    called: Mapping[str, object] = {"roster": roster.name}
    if roster.club_id != campaign.club_id:
        return [Violation(_("This roster is not one of the club's."), "roster", "not_of_club")]
    faults = []
    if roster.ruleset_id != campaign.edition.ruleset_id:
        words = _("%(roster)s is written for another ruleset than the campaign's.")
        faults.append(Violation(words % called, "roster", "other_ruleset"))
    if roster.retired_at is not None:
        faults.append(Violation(_("%(roster)s is retired.") % called, "roster", "retired"))
    units = units_as_listed(roster)
    if not units:
        faults.append(Violation(_("%(roster)s has no unit.") % called, "roster", "no_unit"))
    for word in sorted({each.unit_class for each in units if rules.unit_class(each.unit_class) is None}):
        words = _(
            "%(roster)s has a unit of class %(class)s, which the campaign's edition of the ruleset does not know."
        )
        faults.append(Violation(words % {**called, "class": word}, "roster", "unknown_class"))
    for word in sorted({each.quality for each in units if each.quality and rules.quality(each.quality) is None}):
        words = _("%(roster)s has a unit of quality %(quality)s, which the campaign's edition does not know.")
        faults.append(Violation(words % {**called, "quality": word}, "roster", "unknown_quality"))
    return faults


def _of_places(began: war.Campaign, faction: str, region: str) -> list[Violation]:
    faults = []
    if began.faction(faction) is None:
        faults.append(Violation(_("There is no such faction."), "faction", "unknown_faction"))
    if began.map.region(region) is None:
        faults.append(Violation(_("The map has no such region."), "region", "unknown_region"))
    return faults


def faults_of_numbers(need: int, pace: int) -> list[Violation]:
    faults = []
    if not 0 <= need <= NEED_MOST:
        faults.append(Violation(_("A force needs from 0 to %(most)s.") % {"most": NEED_MOST}, "need", "range"))
    if not 1 <= pace <= PACE_MOST:
        faults.append(Violation(_("A force follows from 1 to %(most)s roads.") % {"most": PACE_MOST}, "pace", "range"))
    return faults


def _of_key(began: war.Campaign, key: str) -> list[Violation]:
    if not key:
        return []
    if len(key) > KEY_MOST or not KEY.fullmatch(key):
        words = _("A key is at most %(most)s letters, digits, dots and dashes, and begins with a letter or digit.")
        return [Violation(words % {"most": KEY_MOST}, "key", "bad_key")]
    if any(each.key == key for each in began.forces):
        return [Violation(_("There is a force of this key already."), "key", "taken")]
    return []
