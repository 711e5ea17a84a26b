"""What rosters and units are written down as, and what cannot be kept (which is more than being illegal)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass

from django.utils.translation import gettext as _

from league.engines.roster_text import ParsedUnit
from league.engines.rulesets import Ruleset
from league.errors import Violation
from league.rosters.models import Unit

__all__ = [
    "FACTS",
    "UNITS_MOST",
    "UnitFacts",
    "facts_of",
    "faults_of_roster",
    "faults_of_units",
    "parsed_facts",
    "says_the_same",
    "written",
]

NAME_LONGEST = 80
FACTION_LONGEST = 80
NOTE_LONGEST = 2_000
LIMIT_MOST = 1_000_000
FIGURES_MOST = 9_999
POINTS_MOST = 1_000_000
GEAR_MOST = 20
GEAR_LONGEST = 200
UNITS_MOST = 500
FACTS = ["name", "unit_class", "figures", "quality", "points", "gear"]


@dataclass(frozen=True, kw_only=True, slots=True)
class UnitFacts:
    """A unit as its owner writes it down. `unit_class` and `quality` are keys of the ruleset; no quality is empty."""

    name: str
    unit_class: str
    figures: int
    points: int
    quality: str = ""
    gear: tuple[str, ...] = ()


def parsed_facts(unit: ParsedUnit) -> UnitFacts:
    return UnitFacts(
        name=unit.name,
        unit_class=unit.class_key,
        figures=unit.figures,
        points=unit.points,
        quality=unit.quality_key,
        gear=unit.gear,
    )


def facts_of(unit: Unit) -> UnitFacts:
    return UnitFacts(
        name=unit.name,
        unit_class=unit.unit_class,
        figures=unit.figures,
        points=unit.points,
        quality=unit.quality,
        gear=tuple(unit.gear),
    )


def written(facts: UnitFacts) -> dict[str, object]:
    """The facts as columns of a unit's row."""
    return {
        **asdict(facts),
        "name": facts.name.strip(),
        "gear": [each.strip() for each in facts.gear if each.strip()],
    }


def says_the_same(unit: Unit, facts: UnitFacts) -> bool:
    columns = written(facts)
    return all(getattr(unit, fact) == columns[fact] for fact in FACTS)


def faults_of_units(
    units: Sequence[UnitFacts], rules: Ruleset, *, was: UnitFacts | None = None, under: str = "units"
) -> list[Violation]:
    """Everything that keeps units from being written down; what is merely illegal is shown, not refused.

    `was` is the unit before a change: a class or quality that the ruleset has dropped since may stay.
    `under` is the field that holds the list; empty when there is one unit and its fields stand alone.
    """
    if len(units) > UNITS_MOST:
        return [Violation(_("A roster has at most %(most)s units.") % {"most": UNITS_MOST}, under, "too_many")]
    return [
        Violation(words, f"{under}.{index}.{field}" if under else field, code)
        for index, facts in enumerate(units)
        for field, code, words in faults_of_unit(facts, rules, was)
    ]


def faults_of_unit(facts: UnitFacts, rules: Ruleset, was: UnitFacts | None) -> Iterator[tuple[str, str, str]]:
    name = facts.name.strip()
    called = {"unit": name or _("A unit without a name")}
    if not name:
        yield "name", "missing", _("Give every unit a name.")
    elif len(name) > NAME_LONGEST:
        yield "name", "long", _("Keep a unit's name under %(most)s characters.") % {"most": NAME_LONGEST}
    if rules.unit_class(facts.unit_class) is None and (was is None or was.unit_class != facts.unit_class):
        words = _("%(unit)s: the ruleset knows no class “%(class)s”.")
        yield "unit_class", "unknown", words % {**called, "class": facts.unit_class}
    if facts.quality and rules.quality(facts.quality) is None and (was is None or was.quality != facts.quality):
        words = _("%(unit)s: the ruleset knows no quality “%(quality)s”.")
        yield "quality", "unknown", words % {**called, "quality": facts.quality}
    if not 1 <= facts.figures <= FIGURES_MOST:
        words = _("%(unit)s: a unit has 1 to %(most)s figures.")
        yield "figures", "range", words % {**called, "most": FIGURES_MOST}
    if not 0 <= facts.points <= POINTS_MOST:
        words = _("%(unit)s: points are from 0 to %(most)s.")
        yield "points", "range", words % {**called, "most": POINTS_MOST}
    if len(facts.gear) > GEAR_MOST or any(len(each) > GEAR_LONGEST for each in facts.gear):
        words = _("%(unit)s: at most %(most)s pieces of gear, each under %(longest)s characters.")
        yield "gear", "long", words % {**called, "most": GEAR_MOST, "longest": GEAR_LONGEST}


def faults_of_roster(*, name: str, faction: str, points_limit: int | None, note: str) -> list[Violation]:
    wrong = []
    if not name:
        wrong.append(Violation(_("Enter the roster's name."), "name", "missing"))
    for field, text, most in (
        ("name", name, NAME_LONGEST),
        ("faction", faction, FACTION_LONGEST),
        ("note", note, NOTE_LONGEST),
    ):
        if len(text) > most:
            wrong.append(Violation(_("Keep this under %(most)s characters.") % {"most": most}, field, "long"))
    if points_limit is not None and not 0 <= points_limit <= LIMIT_MOST:
        words = _("A points limit is from 0 to %(most)s.")
        wrong.append(Violation(words % {"most": LIMIT_MOST}, "points_limit", "range"))
    return wrong
