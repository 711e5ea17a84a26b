from __future__ import annotations

import json
from pathlib import Path

import pytest

import league.rulesets
from league.engines.rulesets import parse_ruleset

DATA = Path(league.rulesets.__file__).parent / "data"


def shipped(name):
    return parse_ruleset(json.loads((DATA / f"{name}.json").read_text(encoding="utf-8")))


@pytest.fixture(scope="session")
def skirmish():
    """Rolls for figures. Line foot that is no veteran: 1-2 lost, 3 out for one battle, 4-6 back."""
    return shipped("ferry_skirmish")


@pytest.fixture(scope="session")
def battle():
    """Rolls for units on a d3. A trained line battalion: 1 (dice 1-2) lost, 2 (3-4) out for one battle, 3 back."""
    return shipped("levee_battle")
