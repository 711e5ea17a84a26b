"""A roster's engagements read back: what each did to whom, which of them cannot have been, which dice are wanted."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext as _

from league.engines import fates, strength
from league.engines.rulesets import CasualtyTable, Ruleset
from league.engines.strength import Change, UnitState
from league.rosters.models import Casualty, Engagement, Muster, Roster, Unit
from league.rosters.queries.fights import as_listed, engagements_of, fights_of
from league.rosters.queries.musters import event_id, musters_of
from league.rosters.queries.states import folded
from league.rosters.queries.words import change_in_words
from league.rulesets.models import Edition
from league.rulesets.queries import current_edition, rules_of

__all__ = [
    "ImpossibleEngagement",
    "RollsWanted",
    "ServiceLine",
    "impossible_among",
    "impossible_engagements",
    "rolls_for",
    "rolls_wanted",
    "service_lines",
    "service_record",
    "service_records",
]


@dataclass(frozen=True, kw_only=True, slots=True)
class ServiceLine:
    """One battle or muster in a unit's record: what it did to the unit, in words, in the order it happened."""

    event: Engagement | Muster
    unit_id: int
    changes: tuple[Change, ...]
    words: tuple[str, ...]

    @property
    def engagement(self) -> int | None:
        """The battle's row; a muster has none."""
        return self.event.pk if isinstance(self.event, Engagement) else None

    @property
    def on(self) -> date:
        return self.event.fought_on if isinstance(self.event, Engagement) else self.event.held_on

    @property
    def outcome(self) -> str:
        return self.event.outcome if isinstance(self.event, Engagement) else ""


@dataclass(frozen=True, kw_only=True, slots=True)
class ImpossibleEngagement:
    """A standing report that cannot have been, since an earlier one was corrected; it is counted as far as it can."""

    engagement: Engagement
    reasons: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class RollsWanted:
    """`count` dice of `sides` sides that decide what became of one casualty, answered by `table`."""

    casualty: Casualty
    count: int
    sides: int
    table: CasualtyTable


def service_record(unit: Unit) -> list[ServiceLine]:
    """The unit's battles from the first to the last."""
    return service_records(unit.roster).get(unit.pk, [])


def service_records(roster: Roster) -> dict[int, list[ServiceLine]]:
    """Each unit's battles and musters, by the unit's row: seven queries, whatever their number."""
    engagements = engagements_of(roster)
    fights = fights_of(engagements)
    musters = musters_of([roster]).get(roster.pk, [])
    units = list(Unit.objects.filter(roster=roster).order_by("position", "pk"))
    rules = rules_of(current_edition(roster.ruleset))
    states = folded(units, fights.values(), musters, rules)
    return service_lines([*engagements, *musters], fights, states, rules)


def service_lines(
    events: Sequence[Engagement | Muster],
    fights: Mapping[int, strength.Engagement],
    states: Mapping[int, UnitState],
    rules: Ruleset,
) -> dict[int, list[ServiceLine]]:
    """`rules` are today's; every battle is told by its own."""
    rows: dict[int | str, Engagement | Muster] = {
        row.pk if isinstance(row, Engagement) else event_id(row): row
        for row in sorted(events, key=lambda each: each.sequence)
    }
    records: dict[int, list[ServiceLine]] = {}
    for unit_id, state in states.items():
        changes: dict[int | str, list[Change]] = defaultdict(list)
        for change in state.reasons:
            changes[change.engagement_id].append(change)
        records[unit_id] = [
            service_line(rows[key], unit_id, changes[key], (isinstance(key, int) and fights[key].ruleset) or rules)
            for key in rows
            if key in changes
        ]
    return records


def service_line(event: Engagement | Muster, unit_id: int, changes: Sequence[Change], rules: Ruleset) -> ServiceLine:
    words = tuple(change_in_words(each, rules) for each in changes)
    return ServiceLine(event=event, unit_id=unit_id, changes=tuple(changes), words=words)


def impossible_engagements(roster: Roster) -> list[ImpossibleEngagement]:
    """The standing engagements that cannot have been any more, each with every reason, in order."""
    engagements = engagements_of(roster)
    fights = fights_of(engagements)
    units = list(Unit.objects.filter(roster=roster).order_by("position", "pk"))
    musters = musters_of([roster]).get(roster.pk, [])
    states = folded(units, fights.values(), musters, rules_of(current_edition(roster.ruleset)))
    return impossible_among(engagements, fights, units, states)


def impossible_among(
    engagements: Sequence[Engagement],
    fights: Mapping[int, strength.Engagement],
    units: Sequence[Unit],
    states: Mapping[int, UnitState],
) -> list[ImpossibleEngagement]:
    """A report cannot have been where the fold counted another number of fallen than it states, or none to field."""
    names = {unit.pk: unit.name for unit in units}
    found = []
    for row in engagements:
        reasons = [
            words
            for line in fights[row.pk].casualties
            if (state := states.get(int(line.unit_id))) and (words := contradiction(line, state, row, names))
        ]
        if reasons:
            found.append(ImpossibleEngagement(engagement=row, reasons=tuple(reasons)))
    return found


def contradiction(line: strength.Casualty, state: UnitState, row: Engagement, names: Mapping[int, str]) -> str:
    """Why this casualty line cannot be, empty when it can."""
    changes = [each for each in state.reasons if each.engagement_id == row.pk]
    facts: dict[str, object] = {"unit": names[int(line.unit_id)], "lost": line.figures_lost}
    if any(each.what == "could_not_field" for each in changes):
        return _("%(unit)s is reported to have fought, but nobody of it could take the field.") % facts
    taken = sum(each.figures for each in changes if each.what in {"back", "out", "lost", "awaiting_dice"})
    facts["stood"] = taken
    if taken < line.figures_lost:
        return _("%(unit)s is reported to have lost %(lost)s figures, but only %(stood)s stood there.") % facts
    if taken > line.figures_lost:
        return _("%(unit)s is reported destroyed at %(lost)s figures, but %(stood)s stood there.") % facts
    return ""


def rolls_wanted(engagement: Engagement) -> list[RollsWanted]:
    """The casualties of an engagement whose dice nobody has thrown yet, with the dice they want: two queries."""
    edition = Edition.objects.get(pk=engagement.snapshot.edition_id)
    waiting = Casualty.objects.filter(engagement=engagement, rolls=None).select_related("unit").order_by("pk")
    wanted = []
    for casualty in waiting:
        needed = rolls_for(casualty, engagement, rules_of(edition))
        if needed.count and needed.table is not None:
            wanted.append(RollsWanted(casualty=casualty, count=needed.count, sides=needed.sides, table=needed.table))
    return wanted


def rolls_for(casualty: Casualty, engagement: Engagement, rules: Ruleset) -> fates.RollsNeeded:
    """The dice one casualty wants by its battle's rules, whether thrown or not; the unit counts as it was that day."""
    units = {unit["id"]: as_listed(unit) for unit in engagement.snapshot.document["units"]}
    unit = units[casualty.unit_id]
    return fates.rolls_needed(
        rules, unit_class=unit.unit_class, quality=unit.quality, figures_lost=casualty.figures_lost
    )
