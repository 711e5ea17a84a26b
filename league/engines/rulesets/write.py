"""A ruleset as its canonical document: every field said, the same order each time. `kit` comes last, if it says aught."""

from __future__ import annotations

from typing import Any

from league.engines.rulesets.kit_write import write_kit
from league.engines.rulesets.model import (
    FORMAT,
    CasualtyTable,
    ClassCount,
    ClassShare,
    Limit,
    Outcome,
    PointsCap,
    Ruleset,
    Scenario,
    Scoring,
    UnitCount,
)

__all__ = ["ruleset_to_document"]


def ruleset_to_document(ruleset: Ruleset) -> dict[str, Any]:
    """The inverse of `parse_ruleset`: parsing the result gives an equal ruleset."""
    document = {
        "format": FORMAT,
        "name": ruleset.name,
        "summary": ruleset.summary,
        "qualities": [{"key": each.key, "name": each.name} for each in ruleset.qualities],
        "unit_classes": [
            {
                "key": each.key,
                "name": each.name,
                "figures_least": each.figures_least,
                "figures_most": each.figures_most,
            }
            for each in ruleset.unit_classes
        ],
        "limits": [_limit(each) for each in ruleset.limits],
        "casualty_tables": [_table(each) for each in ruleset.casualty_tables],
        "destroyed_points": ruleset.destroyed_points,
        "experience": {
            "per_game": ruleset.experience.per_game,
            "per_win": ruleset.experience.per_win,
            "per_draw": ruleset.experience.per_draw,
            "steps": [{"at": each.at, "name": each.name} for each in ruleset.experience.steps],
        },
        "scenarios": [_scenario(each) for each in ruleset.scenarios],
        "scoring": _scoring(ruleset.scoring),
    }
    kit = write_kit(ruleset.kit)
    return {**document, "kit": kit} if kit else document


def _limit(limit: Limit) -> dict[str, Any]:
    match limit:
        case PointsCap():
            return {"kind": "points_cap", "most": limit.most}
        case UnitCount():
            return {"kind": "unit_count", "least": limit.least, "most": limit.most}
        case ClassCount():
            return {"kind": "class_count", "class": limit.unit_class, "least": limit.least, "most": limit.most}
        case ClassShare():
            return {"kind": "class_share", "class": limit.unit_class, "most_percent": limit.most_percent}


def _table(table: CasualtyTable) -> dict[str, Any]:
    return {
        "key": table.key,
        "name": table.name,
        "roll_for": table.roll_for,
        "die": table.die,
        "classes": list(table.classes),
        "qualities": list(table.qualities),
        "outcomes": [_outcome(each) for each in table.outcomes],
    }


def _outcome(outcome: Outcome) -> dict[str, Any]:
    line: dict[str, Any] = {"from": outcome.first, "to": outcome.last, "fate": outcome.fate}
    return line | {"games": outcome.games} if outcome.fate == "out" else line


def _scenario(scenario: Scenario) -> dict[str, Any]:
    table = scenario.table
    return {
        "key": scenario.key,
        "name": scenario.name,
        "summary": scenario.summary,
        "sides": [{"key": each.key, "name": each.name} for each in scenario.sides],
        "rounds_most": scenario.rounds_most,
        "objectives": [
            {"key": each.key, "name": each.name, "points": each.points, "most": each.most, "shared": each.shared}
            for each in scenario.objectives
        ],
        "score_most": scenario.score_most,
        "draw_margin": scenario.draw_margin,
        "table": None if table is None else {"width_mm": table.width_mm, "depth_mm": table.depth_mm},
    }


def _scoring(scoring: Scoring) -> dict[str, Any]:
    return {
        "win_x2": scoring.win_x2,
        "draw_x2": scoring.draw_x2,
        "loss_x2": scoring.loss_x2,
        "bye_x2": scoring.bye_x2,
        "forfeit_win_x2": scoring.forfeit_win_x2,
        "forfeit_loss_x2": scoring.forfeit_loss_x2,
        "absent_x2": scoring.absent_x2,
        "showing_up_x2": scoring.showing_up_x2,
        "bonuses": [
            {
                "kind": each.kind,
                "points_x2": each.points_x2,
                "threshold": each.threshold,
                "count": each.count,
                "name": each.name,
            }
            for each in scoring.bonuses
        ],
        "tie_breaks": list(scoring.tie_breaks),
    }
