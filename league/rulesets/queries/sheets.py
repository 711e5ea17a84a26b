"""A ruleset as people read it: dice by the faces they show, keys by their names, limits in sentences."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from league.engines import rulesets as engine
from league.engines import sizes
from league.rulesets.queries.kit_words import KitSheet, kit_sheet
from league.rulesets.queries.words import BONUS_KINDS, DESTROYED_POINTS, tie_break_in_words

__all__ = ["BonusSheet", "DieLine", "DieTable", "RulesetSheet", "ScenarioSheet", "sheet_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class DieLine:
    """What faces `first` to `last` of the thrown die mean, in words; `fate` tells the three apart."""

    first: int
    last: int
    fate: str
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class DieTable:
    """A casualty table by the faces of the die that is thrown on the table."""

    key: str
    name: str
    speaks_of: str
    thrown: str
    lines: tuple[DieLine, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class ScenarioSheet:
    scenario: engine.Scenario
    sides: str
    objectives: tuple[str, ...]
    size: str


@dataclass(frozen=True, kw_only=True, slots=True)
class BonusSheet:
    points_x2: int
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class RulesetSheet:
    rules: engine.Ruleset
    limits: tuple[str, ...]
    tables: tuple[DieTable, ...]
    destroyed_points: str
    scenarios: tuple[ScenarioSheet, ...]
    bonuses: tuple[BonusSheet, ...]
    tie_breaks: tuple[str, ...]
    kit: KitSheet


def sheet_of(rules: engine.Ruleset) -> RulesetSheet:
    return RulesetSheet(
        rules=rules,
        limits=tuple(limit_in_words(each, rules) for each in rules.limits),
        tables=tuple(die_table(each, rules) for each in rules.casualty_tables),
        destroyed_points=str(DESTROYED_POINTS[rules.destroyed_points]),
        scenarios=tuple(scenario_sheet(each) for each in rules.scenarios),
        bonuses=tuple(
            BonusSheet(points_x2=each.points_x2, words=bonus_in_words(each)) for each in rules.scoring.bonuses
        ),
        tie_breaks=tuple(tie_break_in_words(each) for each in rules.scoring.tie_breaks),
        kit=kit_sheet(rules),
    )


def limit_in_words(limit: engine.Limit, rules: engine.Ruleset) -> str:
    if isinstance(limit, engine.PointsCap):
        return _("At most %(most)s points.") % {"most": limit.most}
    if isinstance(limit, engine.ClassShare):
        words = _("%(class)s: at most %(percent)s%% of the points.")
        return words % {"class": class_name(limit.unit_class, rules), "percent": limit.most_percent}
    if isinstance(limit, engine.UnitCount):
        return _("%(range)s in all.") % {"range": range_in_words(limit.least, limit.most)}
    words = _("%(class)s: %(range)s.")
    return words % {"class": class_name(limit.unit_class, rules), "range": range_in_words(limit.least, limit.most)}


def range_in_words(least: int, most: int | None) -> str:
    if most is None:
        return ngettext("at least %(least)s unit", "at least %(least)s units", least) % {"least": least}
    if least == 0:
        return ngettext("at most %(most)s unit", "at most %(most)s units", most) % {"most": most}
    if least == most:
        return ngettext("exactly %(most)s unit", "exactly %(most)s units", most) % {"most": most}
    return _("%(least)s to %(most)s units") % {"least": least, "most": most}


def class_name(key: str, rules: engine.Ruleset) -> str:
    unit_class = rules.unit_class(key)
    return unit_class.name if unit_class else key


def quality_name(key: str, rules: engine.Ruleset) -> str:
    quality = rules.quality(key)
    return quality.name if quality else key


def die_table(table: engine.CasualtyTable, rules: engine.Ruleset) -> DieTable:
    return DieTable(
        key=table.key,
        name=table.name,
        speaks_of=speaks_of(table, rules),
        thrown=thrown_in_words(table),
        lines=tuple(die_line(each, table) for each in sorted(table.outcomes, key=lambda each: each.first)),
    )


def speaks_of(table: engine.CasualtyTable, rules: engine.Ruleset) -> str:
    classes = listed(class_name(key, rules) for key in table.classes)
    qualities = listed(quality_name(key, rules) for key in table.qualities)
    if classes and qualities:
        return _("%(classes)s of quality %(qualities)s") % {"classes": classes, "qualities": qualities}
    return classes or qualities or _("every unit no table before this one speaks of")


def listed(names: Iterable[str]) -> str:
    return ", ".join(names)


def thrown_in_words(table: engine.CasualtyTable) -> str:
    if table.roll_for == "figure":
        words = _("One die of %(sides)s for each figure lost.")
    else:
        words = _("One die of %(sides)s for the whole unit, if it lost anybody.")
    return words % {"sides": table.reading.thrown}


def die_line(outcome: engine.Outcome, table: engine.CasualtyTable) -> DieLine:
    reading = table.reading
    faces = [face for face in range(1, reading.thrown + 1) if outcome.first <= reading.read(face) <= outcome.last]
    return DieLine(first=faces[0], last=faces[-1], fate=outcome.fate, words=fate_in_words(outcome))


def fate_in_words(outcome: engine.Outcome) -> str:
    if outcome.fate == "out":
        return ngettext("out for %(games)s battle", "out for %(games)s battles", outcome.games) % {
            "games": outcome.games
        }
    return _("lost for good") if outcome.fate == "lost" else _("back for the next battle")


def scenario_sheet(scenario: engine.Scenario) -> ScenarioSheet:
    table = scenario.table
    return ScenarioSheet(
        scenario=scenario,
        sides=listed(side.name for side in scenario.sides),
        objectives=tuple(objective_in_words(each) for each in scenario.objectives),
        size=sizes.as_text(sizes.Size(width_mm=table.width_mm, depth_mm=table.depth_mm)) if table else "",
    )


def objective_in_words(objective: engine.Objective) -> str:
    facts = {"name": objective.name, "points": objective.points, "most": objective.most}
    words = ngettext("%(name)s: %(points)s point each", "%(name)s: %(points)s points each", objective.points) % facts
    if objective.most is None:
        return words
    if objective.shared:
        return _("%(words)s, %(most)s in all for the sides together") % {"words": words, **facts}
    return _("%(words)s, at most %(most)s for a side") % {"words": words, **facts}


def bonus_in_words(bonus: engine.Bonus) -> str:
    words = _("%(kind)s: %(threshold)s") % {"kind": BONUS_KINDS[bonus.kind], "threshold": bonus.threshold}
    if bonus.count:
        words = _("%(words)s, count “%(count)s”") % {"words": words, "count": bonus.count}
    return _("%(name)s (%(words)s)") % {"name": bonus.name, "words": words} if bonus.name else words
