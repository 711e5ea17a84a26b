"""What stays true of the plan of any night."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from league.engines.kit.model import Night, Supply
from league.engines.kit.plan import DEFAULT_ORDER, check_plan, count_holds, plan_night
from league.engines.kit.plan.order import in_order
from tests.engines.kit.club_evening import evening
from tests.engines.kit.evenings import orders, shuffled, tiny

RUNS = range(60)
# What is taken out of what was packed, and pieces in use at all, may well go up when something better turns up.
GOOD_FOR_ALL = ("needed", "wanted", "pleasant", "rank", "loss")


def some(seed: int) -> tuple[random.Random, Night]:
    dice = random.Random(f"laws {seed}")
    return dice, tiny(dice)


@pytest.mark.parametrize("seed", RUNS)
def test_the_order_in_which_a_night_is_told_changes_nothing(seed):
    dice, night = some(seed)
    assert plan_night(shuffled(night, dice)) == plan_night(night)


@pytest.mark.parametrize("seed", RUNS)
def test_the_same_night_has_the_same_plan(seed):
    _dice, night = some(seed)
    assert plan_night(night) == plan_night(night)


@pytest.mark.parametrize("seed", RUNS)
def test_a_spare_more_never_makes_what_matters_worse(seed):
    """Read as one number with digits: the first level that differs is better with the spare."""
    dice, night = some(seed)
    good = dice.choice([use.good for use in night.uses])
    more = replace(night, supplies=(*night.supplies, Supply(key="more", good=good, name="more", count=2, carrier=None)))
    before, after = (plan_night(each, criteria=("shortfall", "stand_ins")) for each in (night, more))
    assert [after.value(level) for level in GOOD_FOR_ALL] <= [before.value(level) for level in GOOD_FOR_ALL]


@pytest.mark.parametrize("seed", RUNS)
def test_whoever_stays_at_home_never_makes_what_is_missing_less(seed):
    _dice, night = some(seed)
    at_home = night.carriers[0].key
    without = replace(
        night,
        carriers=night.carriers[1:],
        supplies=tuple(each for each in night.supplies if each.carrier != at_home),
    )
    before, after = (plan_night(each, criteria=("shortfall",)) for each in (night, without))
    assert [after.value(level) for level in GOOD_FOR_ALL[:3]] >= [before.value(level) for level in GOOD_FOR_ALL[:3]]


@pytest.mark.parametrize("seed", RUNS)
def test_a_criterion_later_in_the_order_never_costs_one_before_it(seed):
    dice, night = some(seed)
    order = orders(dice)
    whole = plan_night(night, criteria=order)
    for length in range(1, len(order)):
        if "shortfall" in order[:length]:
            part = plan_night(night, criteria=order[:length])
            levels = [each.level for each in part.values if each.criterion in order[:length]]
            assert [whole.value(level) for level in levels] == [part.value(level) for level in levels]


@pytest.mark.parametrize("seed", RUNS)
def test_nothing_is_brought_that_nobody_uses_and_nobody_brings_more_than_they_have(seed):
    _dice, night = some(seed)
    plan = plan_night(night)
    check_plan(in_order(night), plan)
    brought: dict[str, int] = {}
    for line in plan.lines:
        brought[line.supply] = brought.get(line.supply, 0) + line.count
    held = {supply.key: supply.count for supply in night.supplies}
    assert all(count <= held[key] for key, count in brought.items())
    assert sum(brought.values()) == sum(each.times * each.use.takes for each in plan.served)


@pytest.mark.parametrize("seed", RUNS)
def test_every_count_that_proves_a_shortfall_holds_when_added_up_anew(seed):
    _dice, night = some(seed)
    for short in plan_night(night).shortfalls:
        assert short.missing > 0 and short.words
        assert short.count is None or count_holds(in_order(night), short.count)


@pytest.mark.parametrize("seed", range(6))
def test_every_line_of_a_club_evening_says_why_it_is_there(seed):
    night = evening(seed, tables=3, people=7)
    plan = plan_night(night)
    assert plan.lines
    assert all(line.reasons and all(reason.words for reason in line.reasons) for line in plan.lines)
    assert {each.criterion for each in plan.values} == set(DEFAULT_ORDER)
