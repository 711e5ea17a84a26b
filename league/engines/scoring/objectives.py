"""What a side's objectives come to."""

from __future__ import annotations

from league.engines.rulesets import Scenario
from league.engines.scoring.model import SideClaim


def side_score(scenario: Scenario | None, side: SideClaim) -> int | None:
    """The score its objectives come to, or else the one typed in."""
    reached = objectives_score(scenario, side)
    return side.score if reached is None else reached


def objectives_score(scenario: Scenario | None, side: SideClaim) -> int | None:
    """What the side's objectives come to; None where none were reported or the scenario has none."""
    if scenario is None or not scenario.objectives or side.objectives is None:
        return None
    total = sum(each.points * side.objectives.get(each.key, 0) for each in scenario.objectives)
    return total if scenario.score_most is None else min(total, scenario.score_most)


def most_reachable(scenario: Scenario) -> int | None:
    """The highest score a side can have. None: there is no such bound."""
    mosts = [each.most for each in scenario.objectives]
    if not mosts or None in mosts:
        return scenario.score_most
    reachable = sum(each.points * (each.most or 0) for each in scenario.objectives)
    return reachable if scenario.score_most is None else min(reachable, scenario.score_most)
