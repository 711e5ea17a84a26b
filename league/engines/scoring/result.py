"""From a report to scores and outcomes."""

from __future__ import annotations

from collections.abc import Sequence

from league.engines.rulesets import Scenario
from league.engines.scoring.check import wrong
from league.engines.scoring.model import ImpossibleScore, Outcome, SideClaim, SideScore
from league.engines.scoring.objectives import side_score


def score_report(
    scenario: Scenario | None, sides: Sequence[SideClaim], *, rounds_played: int | None = None
) -> tuple[SideScore, ...]:
    """Each side's score and outcome, in the order given.

    A side's score is what its objectives come to, no more than `score_most`; a score typed beside them must agree.
    A side that conceded loses whatever the score. Among the others the best score wins; those within the scenario's
    draw margin of it share a draw with it; all further behind lose. Without a scenario any score from nought up
    will do and only equal scores are a draw.

    Raises ImpossibleScore with everything that cannot be.
    """
    found = tuple(wrong(scenario, sides, rounds_played))
    if found:
        raise ImpossibleScore(found)
    scores = {side.position: side_score(scenario, side) for side in sides}
    contenders = [side.position for side in sides if not side.conceded]
    known = {position: scores[position] or 0 for position in contenders}
    margin = scenario.draw_margin if scenario else 0
    best = [position for position in contenders if max(known.values()) - known[position] <= margin]
    top: Outcome = "win" if len(best) == 1 else "draw"
    return tuple(
        SideScore(
            position=side.position,
            score=scores[side.position],
            outcome=top if side.position in best else "loss",
        )
        for side in sides
    )
