"""The words people use for the columns of a roster, and the ruleset's own words as they write them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from league.engines.rulesets import Ruleset
from league.engines.text import clean, folded

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
