"""Game systems as data: read a club's document, check all of it, write it back.

Every engine that applies a ruleset may import this package and no other engine.
"""

from __future__ import annotations

from league.engines.rulesets.dice import DICE, DieReading, die_reading
from league.engines.rulesets.kit import (
    CATEGORIES,
    IMPORTANCES,
    MAKES,
    PERS,
    SHARINGS,
    Category,
    Extra,
    Importance,
    Kit,
    Make,
    Need,
    Per,
    Sharing,
    StandIn,
    Wanted,
)
from league.engines.rulesets.kit_write import stand_in_to_document, wanted_to_document
from league.engines.rulesets.model import (
    FORMAT,
    Bonus,
    CasualtyTable,
    ClassCount,
    ClassShare,
    DestroyedPoints,
    Experience,
    Fate,
    Limit,
    Objective,
    Outcome,
    PointsCap,
    Quality,
    Ruleset,
    Scenario,
    ScenarioSide,
    Scoring,
    Step,
    TableSize,
    UnitClass,
    UnitCount,
)
from league.engines.rulesets.parse import BadRuleset, parse_ruleset
from league.engines.rulesets.schema import ruleset_schema
from league.engines.rulesets.violation import UnitId, Violation, gettext_noop
from league.engines.rulesets.write import ruleset_to_document

__all__ = [
    "CATEGORIES",
    "DICE",
    "FORMAT",
    "IMPORTANCES",
    "MAKES",
    "PERS",
    "SHARINGS",
    "BadRuleset",
    "Bonus",
    "CasualtyTable",
    "Category",
    "ClassCount",
    "ClassShare",
    "DestroyedPoints",
    "DieReading",
    "Experience",
    "Extra",
    "Fate",
    "Importance",
    "Kit",
    "Limit",
    "Make",
    "Need",
    "Objective",
    "Outcome",
    "Per",
    "PointsCap",
    "Quality",
    "Ruleset",
    "Scenario",
    "ScenarioSide",
    "Scoring",
    "Sharing",
    "StandIn",
    "Step",
    "TableSize",
    "UnitClass",
    "UnitCount",
    "UnitId",
    "Violation",
    "Wanted",
    "die_reading",
    "gettext_noop",
    "parse_ruleset",
    "ruleset_schema",
    "ruleset_to_document",
    "stand_in_to_document",
    "wanted_to_document",
]
