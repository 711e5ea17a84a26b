"""The record of a roster's battles: snapshots, engagements, casualties and the dice that decided them.

Called by the acts that start games, file, correct and strike out reports, inside their transactions; those check who
may and hold the rosters by `lock_rosters` before they read or write any of them here.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils.translation import gettext as _

from league.clubs.models import Member
from league.engines import fates, strength
from league.engines.rulesets import Violation as EngineViolation
from league.engines.strength import UnitState
from league.errors import Refused, Violation
from league.rosters.models import Casualty, Engagement, Muster, Rolls, Roster, Snapshot, Unit
from league.rosters.queries.records import rolls_for
from league.rosters.queries.states import states_of
from league.rulesets.models import Edition
from league.rulesets.queries import rules_of, violation_in_words

__all__ = [
    "CasualtiesRefused",
    "CasualtyLine",
    "RollsRefused",
    "lock_rosters",
    "record_engagement",
    "record_rolls",
    "set_aside",
    "take_snapshot",
]

FORMAT = "drumhead snapshot 1"
SEED_LONGEST, LABEL_LONGEST = 64, 80


class CasualtiesRefused(Refused):
    """The casualties cannot be, given how the units stood."""


class RollsRefused(Refused):
    """These dice cannot have decided this casualty, or others have already."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CasualtyLine:
    """What one unit lost; `destroyed` means every figure that stood, which `figures_lost` then counts."""

    unit_id: int
    figures_lost: int = 0
    destroyed: bool = False
    routed: bool = False


def lock_rosters(roster_ids: Iterable[int | None]) -> None:
    """Keep these rosters as they are until the transaction ends; None is nobody's.

    An act on several locks them all at once, in the order of their numbers, so that two such acts never wait for
    each other.
    """
    rows = Roster.objects.filter(pk__in={pk for pk in roster_ids if pk is not None}).order_by("pk")
    list(rows.select_for_update(no_key=True).values_list("pk"))


@transaction.atomic
def take_snapshot(roster: Roster, *, edition: Edition, by: Member | None, at: datetime) -> Snapshot:
    """Freeze the roster as it takes the field; the battle is then held by the rules of `edition`.

    The document is {"format": "drumhead snapshot 1", "roster": name, "faction": text, "units": [...]} with one object
    for every unit that is not removed, in the roster's order:

        id          the unit's row
        name        text
        class       key of the ruleset
        quality     key of the ruleset, or empty
        figures     its establishment, which its points were paid for
        present     how many figures of it stand today; 0: it does not take the field
        points      whole points of the whole establishment
        gear        list of texts
        out         whether nobody of it can take the field
        experience  whole number
    """
    states = states_of(roster)
    units = list(Unit.objects.filter(roster=roster, removed_at=None).order_by("position", "pk"))
    document = {
        "format": FORMAT,
        "roster": roster.name,
        "faction": roster.faction,
        "units": [frozen(unit, states[unit.pk]) for unit in units],
    }
    return Snapshot.objects.create(
        roster=roster,
        edition=edition,
        document=document,
        points=sum(unit.points for unit in units),
        taken_at=at,
        taken_by=by,
    )


def frozen(unit: Unit, state: UnitState) -> dict[str, Any]:
    return {
        "id": unit.pk,
        "name": unit.name,
        "class": unit.unit_class,
        "quality": unit.quality,
        "figures": unit.figures,
        "present": state.present,
        "points": unit.points,
        "gear": list(unit.gear),
        "out": state.out,
        "experience": state.experience,
    }


@transaction.atomic
def record_engagement(
    roster: Roster,
    *,
    snapshot: Snapshot,
    title: str,
    fought_on: date,
    outcome: str,
    casualties: Sequence[CasualtyLine] = (),
    replaces: Engagement | None = None,
    at: datetime,
) -> Engagement:
    """Add a battle to the roster's record, at its end or in the place of the one it `replaces`.

    The casualties are held against the strength the units have after the roster's earlier battles. A correction may
    make a later battle impossible; that is not refused here but shown (`queries.impossible_engagements`), since only
    the people who fought it can mend it.

    Raises:
        CasualtiesRefused: with every reason; `field` is `casualties.<index>` of the line.
    """
    if replaces is not None:
        set_aside(replaces, at=at)
    sequence = next_sequence(roster) if replaces is None else replaces.sequence
    if faults := faults_of_casualties(roster, snapshot, casualties, sequence):
        raise CasualtiesRefused(faults)
    engagement = Engagement.objects.create(
        roster=roster,
        snapshot=snapshot,
        sequence=sequence,
        title=title,
        fought_on=fought_on,
        outcome=outcome,
        recorded_at=at,
    )
    Casualty.objects.bulk_create(
        Casualty(
            engagement=engagement,
            unit_id=line.unit_id,
            figures_lost=line.figures_lost,
            destroyed=line.destroyed,
            routed=line.routed,
        )
        for line in casualties
    )
    return engagement


def next_sequence(roster: Roster) -> int:
    """After every engagement and muster there ever was: a place set aside is only taken by its correction."""
    fought: int | None = Engagement.objects.filter(roster=roster).aggregate(last=Max("sequence"))["last"]
    mustered: int | None = Muster.objects.filter(unit__roster=roster).aggregate(last=Max("sequence"))["last"]
    return max(fought or 0, mustered or 0) + 1


def faults_of_casualties(
    roster: Roster, snapshot: Snapshot, casualties: Sequence[CasualtyLine], sequence: int
) -> list[Violation]:
    """What cannot be about the lines. Units without a line are not judged: nothing is claimed of them."""
    units = {unit["id"]: unit for unit in snapshot.document["units"]}
    claimed = {line.unit_id for line in casualties}
    fielded = {pk for pk, unit in units.items() if pk in claimed and unit["present"]}
    found = strength.check_casualties(
        {pk: state for pk, state in states_of(roster, sequence).items() if pk in units},
        [
            strength.Casualty(
                unit_id=line.unit_id,
                figures_lost=line.figures_lost,
                destroyed=line.destroyed,
                routed=line.routed,
            )
            for line in casualties
        ],
        fielded,
        names={pk: unit["name"] for pk, unit in units.items()},
    )
    places = {line.unit_id: index for index, line in reversed(list(enumerate(casualties)))}
    return [as_refusal(each, f"casualties.{places[int(each.unit_id)]}") for each in found if each.unit_id is not None]


def as_refusal(found: EngineViolation, field: str) -> Violation:
    return Violation(violation_in_words(found), field, found.code)


@transaction.atomic
def set_aside(engagement: Engagement, *, at: datetime) -> Engagement:
    """Let an engagement count no more: it was corrected, or an umpire struck it out. It stays readable."""
    Engagement.objects.filter(pk=engagement.pk, set_aside_at=None).update(set_aside_at=at)
    engagement.refresh_from_db(fields=["set_aside_at"])
    return engagement


@transaction.atomic
def record_rolls(
    casualty: Casualty,
    *,
    source: str,
    results: Iterable[int],
    seed: str = "",
    label: str = "",
    by: Member | None,
    at: datetime,
) -> Rolls:
    """Write down the dice of one casualty, once: the same dice again are those that are there.

    `source` is `table` (then without a seed) or `drawn` (then with the seed and label that repeat the draw).

    Raises:
        RollsRefused: other dice were written down already; there are too few or too many; the die has no such face;
            nothing was to be thrown; the seed does not go with the source.
    """
    thrown = list(results)
    casualty = (
        Casualty.objects.select_related("engagement__snapshot__edition")
        .select_for_update(of=("self",), no_key=True)
        .get(pk=casualty.pk)
    )
    standing: Rolls | None = Rolls.objects.filter(casualty=casualty).first()
    if standing is not None:
        if (standing.source, standing.results, standing.seed, standing.label) == (source, thrown, seed, label):
            return standing
        raise RollsRefused(Violation(_("The dice of this casualty are written down already."), "results", "rolled"))
    if wrong := [*faults_of_source(source, seed, label), *faults_of_rolls(casualty, thrown)]:
        raise RollsRefused(wrong)
    return Rolls.objects.create(casualty=casualty, source=source, results=thrown, seed=seed, label=label, by=by, at=at)


def faults_of_rolls(casualty: Casualty, thrown: list[int]) -> list[Violation]:
    engagement = casualty.engagement
    needed = rolls_for(casualty, engagement, rules_of(engagement.snapshot.edition))
    if not needed.count:
        return [Violation(_("Nothing is to be thrown for this casualty."), "results", "nothing_to_throw")]
    return [as_refusal(each, "results") for each in fates.check_rolls(needed, thrown)]


def faults_of_source(source: str, seed: str, label: str) -> list[Violation]:
    wrong = []
    if source not in Rolls.Source.values:
        wrong.append(Violation(_("Dice are thrown on the table or drawn by the site."), "source", "unknown"))
    elif (source == Rolls.Source.DRAWN) != bool(seed):
        wrong.append(Violation(_("Drawn dice name their seed, thrown dice have none."), "seed", "seed"))
    if len(seed) > SEED_LONGEST or len(label) > LABEL_LONGEST:
        wrong.append(Violation(_("The seed or its label is too long."), "seed", "long"))
    return wrong
