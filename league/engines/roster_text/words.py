"""The words people use for the columns of a roster, and the ruleset's own words as they write them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal

from league.engines.rulesets import Ruleset

Column = Literal["name", "class", "figures", "quality", "points", "gear", "copies"]

COLUMNS: Mapping[str, Column] = {
    "name": "name",
    "unit": "name",
    "unit name": "name",
    "title": "name",
    "class": "class",
    "unit class": "class",
    "class key": "class",
    "type": "class",
    "kind": "class",
    "figures": "figures",
    "figs": "figures",
    "models": "figures",
    "size": "figures",
    "strength": "figures",
    "number of figures": "figures",
    "quality": "quality",
    "quality key": "quality",
    "training": "quality",
    "grade": "quality",
    "points": "points",
    "pts": "points",
    "cost": "points",
    "value": "points",
    "gear": "gear",
    "equipment": "gear",
    "kit": "gear",
    "weapons": "gear",
    "arms": "gear",
    "copies": "copies",
    "quantity": "copies",
    "qty": "copies",
    "how many": "copies",
}

SPACES = re.compile(r"\s+")
# Controls and half surrogate pairs, which a database cannot store; a tab or a line break in a cell is but a space.
UNFIT = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff\u2028\u2029]")


def clean(text: str) -> str:
    """One line without stray spaces and without characters that cannot be kept."""
    return SPACES.sub(" ", UNFIT.sub(" ", text)).strip()


def folded(text: str) -> str:
    """What two spellings of one word have in common: no case, and dashes and underscores count as spaces."""
    return SPACES.sub(" ", text.replace("_", " ").replace("-", " ")).strip().casefold()


def column_of(heading: str) -> Column | None:
    return COLUMNS.get(folded(clean(heading)))


class Words:
    """The classes and qualities of one ruleset, found by key or by name."""

    def __init__(self, ruleset: Ruleset) -> None:
        self.ruleset = ruleset
        # A key is taken before a name that happens to read the same.
        self.classes = {folded(each.name): each.key for each in ruleset.unit_classes}
        self.classes |= {folded(each.key): each.key for each in ruleset.unit_classes}
        self.qualities = {folded(each.name): each.key for each in ruleset.qualities}
        self.qualities |= {folded(each.key): each.key for each in ruleset.qualities}

    def class_key(self, text: str) -> str | None:
        return self.classes.get(folded(text))

    def quality_key(self, text: str) -> str | None:
        return self.qualities.get(folded(text))

    def class_name(self, key: str) -> str:
        unit_class = self.ruleset.unit_class(key)
        return unit_class.name if unit_class else key
