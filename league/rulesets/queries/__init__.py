"""What is read of the club's game systems."""

from __future__ import annotations

from league.rulesets.queries.editions import (
    canonical,
    current_edition,
    current_editions,
    editions_of,
    rules_of,
    rulesets_of,
    shipped_documents,
)
from league.rulesets.queries.kit_words import (
    CATEGORIES,
    IMPORTANCES,
    MAKES,
    PERS,
    SHARINGS,
    KitSheet,
    NeedSheet,
    how_many_in_words,
    kit_sheet,
    thing_in_words,
)
from league.rulesets.queries.sheets import RulesetSheet, sheet_of
from league.rulesets.queries.words import (
    BONUS_KINDS,
    DESTROYED_POINTS,
    LIMIT_KINDS,
    TIE_BREAKS,
    place_in_words,
    refusals,
    tie_break_in_words,
    violation_in_words,
)

__all__ = [
    "BONUS_KINDS",
    "CATEGORIES",
    "DESTROYED_POINTS",
    "IMPORTANCES",
    "LIMIT_KINDS",
    "MAKES",
    "PERS",
    "SHARINGS",
    "TIE_BREAKS",
    "KitSheet",
    "NeedSheet",
    "RulesetSheet",
    "canonical",
    "current_edition",
    "current_editions",
    "editions_of",
    "how_many_in_words",
    "kit_sheet",
    "place_in_words",
    "refusals",
    "rules_of",
    "rulesets_of",
    "sheet_of",
    "shipped_documents",
    "thing_in_words",
    "tie_break_in_words",
    "violation_in_words",
]
