"""The units a side led into a game."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from league.battles.models import Side
from league.engines.rulesets import Ruleset
from league.engines.scoring import FieldedUnit
from league.rosters.models import Snapshot, Unit
from league.rosters.queries import states_of

__all__ = ["ForceUnit", "fielded_units", "force_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class ForceUnit:
    """A unit with the strength it brought: `present` of its `figures` stood on the table."""

    id: int
    name: str
    class_name: str
    quality_name: str
    figures: int
    present: int
    points: int


def force_of(side: Side, rules: Ruleset) -> tuple[ForceUnit, ...]:
    """As the snapshot has it, or, before the game began, as the roster stands now; none without a roster."""
    if side.snapshot is not None:
        return tuple(force_unit(facts, rules) for facts in units_in(side.snapshot))
    if side.roster is None:
        return ()
    states = states_of(side.roster)
    units = Unit.objects.filter(roster=side.roster, removed_at=None).order_by("position", "pk")
    return tuple(
        force_unit(
            {
                "id": unit.pk,
                "name": unit.name,
                "class": unit.unit_class,
                "quality": unit.quality,
                "figures": unit.figures,
                "present": states[unit.pk].present,
                "points": unit.points,
            },
            rules,
        )
        for unit in units
    )


def force_unit(facts: Mapping[str, Any], rules: Ruleset) -> ForceUnit:
    unit_class, quality = rules.unit_class(facts["class"]), rules.quality(facts["quality"])
    return ForceUnit(
        id=facts["id"],
        name=facts["name"],
        class_name=unit_class.name if unit_class else facts["class"],
        quality_name=quality.name if quality else facts["quality"],
        figures=facts["figures"],
        present=facts["present"],
        points=facts["points"],
    )


def fielded_units(snapshot: Snapshot | None) -> tuple[FieldedUnit, ...]:
    """The snapshot's units as the scoring engine values them."""
    if snapshot is None:
        return ()
    return tuple(
        FieldedUnit(id=facts["id"], points=facts["points"], figures=facts["figures"]) for facts in units_in(snapshot)
    )


def units_in(snapshot: Snapshot) -> list[Mapping[str, Any]]:
    units: list[Mapping[str, Any]] = snapshot.document["units"]
    return units
