"""What each unit of a roster is worth at a moment: the strength engine's fold over its engagements."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from league.engines import strength
from league.engines.rulesets import Ruleset
from league.engines.strength import UnitState
from league.rosters.models import Engagement, Muster, Roster, Unit
from league.rosters.queries.fights import fights_of
from league.rosters.queries.musters import as_roll_call, musters_of
from league.rulesets.queries import current_editions, rules_of

__all__ = ["folded", "states_of", "states_of_rosters"]


def states_of(roster: Roster, before_sequence: int | None = None) -> dict[int, UnitState]:
    """Each unit by its row's number, those removed since among them, today or before the battle of that sequence."""
    return states_of_rosters([roster], before_sequence)[roster.pk]


def states_of_rosters(rosters: Iterable[Roster], before_sequence: int | None = None) -> dict[int, dict[int, UnitState]]:
    """The states of every roster's units, by roster and unit: six queries, whatever the number of rosters."""
    wanted = {roster.pk: roster for roster in rosters}
    if not wanted:
        return {}
    units: dict[int, list[Unit]] = defaultdict(list)
    for unit in Unit.objects.filter(roster__in=wanted).order_by("position", "pk"):
        units[unit.roster_id].append(unit)
    rows = Engagement.objects.standing().filter(roster__in=wanted).select_related("snapshot")
    if before_sequence is not None:
        rows = rows.filter(sequence__lt=before_sequence)
    engagements = list(rows)
    fights = fights_of(engagements)
    by_roster: dict[int, list[strength.Engagement]] = defaultdict(list)
    for row in engagements:
        by_roster[row.roster_id].append(fights[row.pk])
    musters = musters_of(wanted.values(), before_sequence)
    editions = current_editions(roster.ruleset_id for roster in wanted.values())
    return {
        pk: folded(units[pk], by_roster[pk], musters.get(pk, ()), rules_of(editions[roster.ruleset_id]))
        for pk, roster in wanted.items()
    }


def folded(
    units: Sequence[Unit], fights: Iterable[strength.Engagement], musters: Iterable[Muster], rules: Ruleset
) -> dict[int, UnitState]:
    """The fold itself; `rules` name the steps of experience, each fight has its own."""
    states: Mapping[int | str, UnitState] = strength.states_today(
        [unit_as_listed(each) for each in units], fights, rules, musters=[as_roll_call(each) for each in musters]
    )
    return {unit.pk: states[unit.pk] for unit in units}


def unit_as_listed(unit: Unit) -> strength.RosterUnit:
    return strength.RosterUnit(
        id=unit.pk, unit_class=unit.unit_class, quality=unit.quality, figures=unit.figures, points=unit.points
    )
