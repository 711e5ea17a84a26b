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
from league.rulesets.queries.words import place_in_words, refusals, violation_in_words

__all__ = [
    "canonical",
    "current_edition",
    "current_editions",
    "editions_of",
    "place_in_words",
    "refusals",
    "rules_of",
    "rulesets_of",
    "shipped_documents",
    "violation_in_words",
]
