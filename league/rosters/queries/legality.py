"""Whether rosters are legal by the ruleset as it is now, and everything that is not."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from league.engines import legality
from league.engines.rulesets import Ruleset
from league.rosters.models import Roster, Unit
from league.rulesets.queries import current_editions, rules_of, violation_in_words

__all__ = ["faults_of", "violations_of", "violations_of_rosters"]


def violations_of(roster: Roster) -> list[str]:
    """Everything illegal about a roster, in words; empty when it is legal."""
    return violations_of_rosters([roster])[roster.pk]


def violations_of_rosters(rosters: Iterable[Roster]) -> dict[int, list[str]]:
    """The same for many rosters by their number: two queries, whatever their number."""
    wanted = list(rosters)
    units: dict[int, list[Unit]] = defaultdict(list)
    for unit in Unit.objects.filter(roster__in=wanted, removed_at=None).order_by("position", "pk"):
        units[unit.roster_id].append(unit)
    editions = current_editions(roster.ruleset_id for roster in wanted)
    return {
        roster.pk: faults_of(units[roster.pk], rules_of(editions[roster.ruleset_id]), roster.points_limit)
        for roster in wanted
    }


def faults_of(units: Sequence[Unit], rules: Ruleset, points_limit: int | None) -> list[str]:
    listed = [
        legality.ListedUnit(
            id=unit.pk,
            name=unit.name,
            unit_class=unit.unit_class,
            quality=unit.quality,
            figures=unit.figures,
            points=unit.points,
        )
        for unit in units
    ]
    return [violation_in_words(each) for each in legality.violations(listed, rules, points_limit=points_limit)]
