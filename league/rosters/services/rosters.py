"""Writing rosters: making them, changing them, copying them, retiring them.

A roster carries a version, raised by every change. Who changes it says which version they looked at; another one
since is refused, so that nobody writes over what they have not seen. The second arrival of a change that is made
already changes nothing and is not refused.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from uuid import UUID

from django.db import transaction
from django.db.models import F
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from league.clubs.models import Club, Member
from league.clubs.queries import put_in_words
from league.clubs.services.log import log_act
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.engines.rulesets import Ruleset as Rules
from league.errors import NotYoursToDo, Refused, Violation
from league.rosters import permissions
from league.rosters.models import Roster, Unit
from league.rosters.services.facts import UNITS_MOST, UnitFacts, facts_of, faults_of_roster, faults_of_units, written
from league.rulesets.models import Ruleset
from league.rulesets.queries import current_edition, rules_of

__all__ = [
    "RosterMovedOn",
    "RosterRefused",
    "UnitFacts",
    "bring_back_roster",
    "change_roster",
    "copy_roster",
    "create_roster",
    "import_units",
    "retire_roster",
]

put_in_words(
    {
        "roster_created": gettext_lazy("wrote the roster %(name)s"),
        "roster_copied": gettext_lazy("copied the roster %(origin)s as %(name)s"),
        "roster_changed": gettext_lazy("changed the roster %(name)s"),
        "roster_retired": gettext_lazy("retired the roster %(name)s"),
        "roster_brought_back": gettext_lazy("brought back the roster %(name)s"),
        "units_imported": gettext_lazy("added %(count)s units to the roster %(name)s"),
        "unit_added": gettext_lazy("added %(unit)s to the roster %(name)s"),
        "unit_changed": gettext_lazy("changed %(unit)s in the roster %(name)s"),
        "unit_removed": gettext_lazy("took %(unit)s off the roster %(name)s"),
    }
)


class RosterRefused(Refused):
    """What was written cannot be kept as a roster."""


class RosterMovedOn(Refused):
    """The roster was changed by somebody else since it was looked at."""

    status = 409


@transaction.atomic
def create_roster(
    club: Club,
    *,
    owner: Member,
    ruleset: Ruleset,
    name: str,
    faction: str = "",
    points_limit: int | None = None,
    note: str = "",
    units: Sequence[UnitFacts] = (),
    submission: UUID,
    by: Member,
    copied_from: Roster | None = None,
) -> Roster:
    """Write a roster with its units, in their order. It may break limits: that is shown, not refused.

    Raises:
        NotYoursToDo: `permissions.can_own_rosters_for` says for whom one may write.
        RosterRefused: with everything that cannot be kept.
        SubmissionReused: the submission's name came earlier with another roster.
    """
    facts = {"name": name.strip(), "faction": faction.strip(), "points_limit": points_limit, "note": note.strip()}
    digest = digest_of(
        {
            "club": club.pk,
            "owner": owner.pk,
            "ruleset": ruleset.pk,
            "units": [asdict(unit) for unit in units],
            "copied_from": copied_from.pk if copied_from else None,
            **facts,
        }
    )
    if again := earlier(Roster, submission, digest):
        return again
    if owner.club_id != club.pk or not permissions.can_own_rosters_for(by, owner):
        raise NotYoursToDo(_("Write rosters for yourself; organisers write them for others of the club."))
    rules = rules_of(current_edition(ruleset))
    wrong = [*faults_of_ruleset(club, ruleset), *faults_of_roster(**facts)]  # type: ignore[arg-type]
    if copied_from is None:
        wrong += faults_of_units(units, rules)
    if wrong:
        raise RosterRefused(wrong)
    now = timezone.now()
    roster, is_new = write_once(
        Roster,
        submission,
        digest,
        club=club,
        owner=owner,
        ruleset=ruleset,
        copied_from=copied_from,
        created_at=now,
        **facts,
    )
    if not is_new:
        return roster
    write_units(roster, units, first=1)
    if copied_from is None:
        log_act(club, "roster_created", roster, by=by, at=now, name=roster.name)
    else:
        log_act(club, "roster_copied", roster, by=by, at=now, name=roster.name, origin=copied_from.name)
    return roster


@transaction.atomic
def copy_roster(roster: Roster, *, name: str = "", owner: Member | None = None, submission: UUID, by: Member) -> Roster:
    """A new roster with the same units at full establishment and no record; it remembers where it came from.

    Raises:
        NotYoursToDo: `permissions.can_copy_roster` and `can_own_rosters_for` say who may, and for whom.
        RosterRefused: the ruleset is retired, or the name cannot be kept.
        SubmissionReused: the submission's name came earlier with another roster.
    """
    if not permissions.can_copy_roster(by, roster.club):
        raise NotYoursToDo(_("Only members of the club copy its rosters."))
    units = Unit.objects.filter(roster=roster, removed_at=None).order_by("position", "pk")
    return create_roster(
        roster.club,
        owner=owner or by,
        ruleset=roster.ruleset,
        name=name.strip() or roster.name,
        faction=roster.faction,
        points_limit=roster.points_limit,
        note=roster.note,
        units=[facts_of(unit) for unit in units],
        submission=submission,
        by=by,
        copied_from=roster,
    )


@transaction.atomic
def change_roster(
    roster: Roster, *, name: str, faction: str, points_limit: int | None, note: str, version: int, by: Member
) -> Roster:
    """Describe a roster anew; its units stay.

    Raises:
        NotYoursToDo: neither owner nor organiser, or the roster is retired.
        RosterMovedOn: `version` is not the roster's any more.
        RosterRefused: with everything that cannot be kept.
    """
    roster = lock_roster(roster, by=by)
    facts = {"name": name.strip(), "faction": faction.strip(), "points_limit": points_limit, "note": note.strip()}
    if all(getattr(roster, fact) == value for fact, value in facts.items()):
        return roster
    if wrong := faults_of_roster(**facts):  # type: ignore[arg-type]
        raise RosterRefused(wrong)
    raise_version(roster, version)
    roster.name, roster.faction, roster.points_limit, roster.note = (
        name.strip(),
        faction.strip(),
        points_limit,
        note.strip(),
    )
    roster.save(update_fields=["name", "faction", "points_limit", "note"])
    log_act(roster.club, "roster_changed", roster, by=by, name=roster.name)
    return roster


@transaction.atomic
def import_units(roster: Roster, *, units: Sequence[UnitFacts], version: int | None = None, by: Member) -> Roster:
    """Add units at the end of a roster, in their order. Two units may say the same: a company has several sections.

    Raises:
        NotYoursToDo: neither owner nor organiser, or the roster is retired.
        RosterMovedOn: `version`, where given, is not the roster's any more; so a second arrival adds nothing.
        RosterRefused: with everything that cannot be kept.
    """
    roster = lock_roster(roster, by=by)
    held = list(Unit.objects.filter(roster=roster).order_by("position", "pk"))
    wrong = faults_of_units(units, current_rules(roster))
    if not units:
        wrong.append(Violation(_("There is no unit to add."), "units", "missing"))
    if len(held) + len(units) > UNITS_MOST:
        wrong.append(Violation(_("A roster has at most %(most)s units.") % {"most": UNITS_MOST}, "units", "too_many"))
    if wrong:
        raise RosterRefused(wrong)
    raise_version(roster, version)
    write_units(roster, units, first=next_position(held))
    log_act(roster.club, "units_imported", roster, by=by, name=roster.name, count=len(units))
    return roster


@transaction.atomic
def retire_roster(roster: Roster, *, by: Member) -> Roster:
    """Put a roster away: it keeps its record and takes the field no more. Retiring twice is retiring once.

    Raises:
        NotYoursToDo: neither owner nor organiser.
    """
    refuse_others(roster, by)
    now = timezone.now()
    if Roster.objects.filter(pk=roster.pk, retired_at=None).update(retired_at=now, version=F("version") + 1):
        log_act(roster.club, "roster_retired", roster, by=by, at=now, name=roster.name)
    roster.refresh_from_db()
    return roster


@transaction.atomic
def bring_back_roster(roster: Roster, *, by: Member) -> Roster:
    """Take a retired roster out again; raises NotYoursToDo for others than its owner and organisers."""
    refuse_others(roster, by)
    away = Roster.objects.filter(pk=roster.pk, retired_at__isnull=False)
    if away.update(retired_at=None, version=F("version") + 1):
        log_act(roster.club, "roster_brought_back", roster, by=by, name=roster.name)
    roster.refresh_from_db()
    return roster


def refuse_others(roster: Roster, by: Member) -> None:
    if not permissions.can_retire_roster(by, roster):
        raise NotYoursToDo(_("Only its owner and the club's organisers change a roster."))


def lock_roster(roster: Roster, *, by: Member) -> Roster:
    """The roster as it is now, kept by this transaction until its end (where the database locks rows)."""
    locked: Roster = (
        Roster.objects.select_for_update(of=("self",), no_key=True).select_related("club", "ruleset").get(pk=roster.pk)
    )
    refuse_others(locked, by)
    if locked.retired_at is not None:
        raise NotYoursToDo(_("The roster is retired. Bring it back to change it."))
    return locked


def raise_version(roster: Roster, version: int | None) -> None:
    """Count the change, in one statement with the check that nobody was quicker."""
    seen = roster.version if version is None else version
    if not Roster.objects.filter(pk=roster.pk, version=seen).update(version=seen + 1):
        raise RosterMovedOn(
            Violation(
                _("Somebody changed this roster meanwhile. Look at it again, then send this anew."), "version", "stale"
            )
        )
    roster.version = seen + 1


def current_rules(roster: Roster) -> Rules:
    return rules_of(current_edition(roster.ruleset))


def next_position(held: Sequence[Unit]) -> int:
    return max((unit.position for unit in held), default=0) + 1


def write_units(roster: Roster, units: Sequence[UnitFacts], *, first: int) -> list[Unit]:
    return Unit.objects.bulk_create(
        Unit(roster=roster, position=position, **written(facts)) for position, facts in enumerate(units, start=first)
    )


def faults_of_ruleset(club: Club, ruleset: Ruleset) -> list[Violation]:
    if ruleset.club_id != club.pk:
        return [Violation(_("Choose a ruleset of this club."), "ruleset", "unknown")]
    if ruleset.retired_at is not None:
        return [Violation(_("The club no longer plays by %(name)s.") % {"name": ruleset.name}, "ruleset", "retired")]
    return []
