"""One roster whole: every unit as it stands today, what is illegal, and why each figure is what it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from league.engines import strength
from league.engines.rulesets import Ruleset
from league.engines.strength import UnitState
from league.rosters.models import Engagement, Roster, Unit
from league.rosters.queries.fights import engagements_of, fights_of
from league.rosters.queries.legality import faults_of
from league.rosters.queries.musters import musters_of
from league.rosters.queries.records import ServiceLine, impossible_among, service_lines
from league.rosters.queries.states import folded
from league.rulesets.models import Edition
from league.rulesets.queries import current_edition, rules_of

__all__ = ["BattleLine", "RosterSheet", "UnitLine", "roster_sheet", "unit_line"]

OUTCOMES = {"win": gettext_lazy("won"), "draw": gettext_lazy("drawn"), "loss": gettext_lazy("lost")}


@dataclass(frozen=True, kw_only=True, slots=True)
class UnitLine:
    """One unit; `absent` says in words who is missing and until when, `battles` why."""

    unit: Unit
    class_name: str
    quality_name: str
    state: UnitState
    absent: tuple[str, ...]
    battles: tuple[ServiceLine, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class BattleLine:
    """One battle of the roster. `doubts` say why its report cannot be right any more; empty when it can."""

    engagement: Engagement
    outcome: str
    doubts: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class RosterSheet:
    """`points`, `figures` and `present` are totals over the units that are not removed."""

    roster: Roster
    edition: Edition
    units: tuple[UnitLine, ...]
    removed: tuple[UnitLine, ...]
    points: int
    figures: int
    present: int
    faults: tuple[str, ...]
    battles: tuple[BattleLine, ...]

    @property
    def legal(self) -> bool:
        return not self.faults

    @property
    def doubtful(self) -> tuple[BattleLine, ...]:
        return tuple(each for each in self.battles if each.doubts)


def roster_sheet(roster: Roster) -> RosterSheet:
    """Six queries, whatever the number of units and battles."""
    edition = current_edition(roster.ruleset)
    rules = rules_of(edition)
    units = list(Unit.objects.filter(roster=roster).order_by("position", "pk"))
    engagements = engagements_of(roster)
    fights = fights_of(engagements)
    musters = musters_of([roster]).get(roster.pk, [])
    states = folded(units, fights.values(), musters, rules)
    records = service_lines([*engagements, *musters], fights, states, rules)
    kept = [unit for unit in units if unit.removed_at is None]
    return RosterSheet(
        roster=roster,
        edition=edition,
        units=tuple(unit_line(unit, states[unit.pk], records[unit.pk], rules) for unit in kept),
        removed=tuple(
            unit_line(unit, states[unit.pk], records[unit.pk], rules) for unit in units if unit.removed_at is not None
        ),
        points=sum(unit.points for unit in kept),
        figures=sum(unit.figures for unit in kept),
        present=sum(states[unit.pk].present for unit in kept),
        faults=tuple(faults_of(kept, rules, roster.points_limit)),
        battles=battle_lines(engagements, fights, units, states),
    )


def battle_lines(
    engagements: Sequence[Engagement],
    fights: Mapping[int, strength.Engagement],
    units: Sequence[Unit],
    states: Mapping[int, UnitState],
) -> tuple[BattleLine, ...]:
    doubts = {each.engagement.pk: each.reasons for each in impossible_among(engagements, fights, units, states)}
    return tuple(
        BattleLine(engagement=row, outcome=str(OUTCOMES.get(row.outcome, "")), doubts=doubts.get(row.pk, ()))
        for row in engagements
    )


def unit_line(unit: Unit, state: UnitState, record: Sequence[ServiceLine], rules: Ruleset) -> UnitLine:
    unit_class, quality = rules.unit_class(unit.unit_class), rules.quality(unit.quality)
    return UnitLine(
        unit=unit,
        class_name=unit_class.name if unit_class else unit.unit_class,
        quality_name=quality.name if quality else unit.quality,
        state=state,
        absent=tuple(absent_in_words(state)),
        battles=tuple(record),
    )


def absent_in_words(state: UnitState) -> list[str]:
    if state.gone:
        return [_("gone")]
    words = []
    for each in state.recovering:
        back = ngettext(
            "%(figures)s out for %(games)s more battle", "%(figures)s out for %(games)s more battles", each.games_left
        )
        words.append(back % {"figures": each.figures, "games": each.games_left})
    if state.awaiting_dice:
        words.append(_("%(figures)s waiting for dice") % {"figures": state.awaiting_dice})
    if state.lost:
        words.append(_("%(figures)s lost for good") % {"figures": state.lost})
    return words
