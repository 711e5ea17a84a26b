"""The plan against every plan there is, on nights small enough to try them all, by any order of the criteria."""

from __future__ import annotations

import random

import pytest

from league.engines.kit.plan import plan_night
from tests.engines.kit.evenings import best_by_trying, orders, tiny


@pytest.mark.parametrize("seed", range(250))
def test_no_plan_is_better(seed):
    dice = random.Random(seed)
    night, order = tiny(dice), orders(dice)
    plan = plan_night(night, criteria=order)
    assert tuple(each.value for each in plan.values) == best_by_trying(night, order)
    assert plan.proven
