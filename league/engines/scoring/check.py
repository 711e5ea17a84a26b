"""Everything about a report that cannot be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from league.engines.rulesets import Objective, Scenario, Violation, gettext_noop
from league.engines.scoring.model import SideClaim
from league.engines.scoring.objectives import most_reachable, objectives_score

SIDES_LEAST = 2


def wrong(scenario: Scenario | None, sides: Sequence[SideClaim], rounds_played: int | None) -> Iterator[Violation]:
    """Each fault of a report, the game's own first, then side by side, then what the sides claim together."""
    yield from _wrong_sides(scenario, sides)
    yield from _wrong_rounds(scenario, rounds_played)
    contenders = [side.position for side in sides if not side.conceded]
    for side in sides:
        yield from _wrong_objectives(scenario, side)
        yield from _wrong_score(scenario, side)
        if side.position in contenders and len(contenders) > 1:
            yield from _missing_score(scenario, side)
    for objective in scenario.objectives if scenario else ():
        yield from _wrong_share(objective, sides)


def _wrong_sides(scenario: Scenario | None, sides: Sequence[SideClaim]) -> Iterator[Violation]:
    positions = [side.position for side in sides]
    if len(set(positions)) < len(positions):
        yield Violation(code="side_twice", message=gettext_noop("One side is reported twice."), place="sides")
    if scenario is not None and len(sides) != len(scenario.sides):
        words = gettext_noop("The scenario has %(wanted)s sides; the report has %(given)s.")
        args = {"wanted": len(scenario.sides), "given": len(sides)}
        yield Violation(code="wrong_number_of_sides", message=words, args=args, place="sides")
    elif len(sides) < SIDES_LEAST:
        yield Violation(code="too_few_sides", message=gettext_noop("A game has two sides or more."), place="sides")
    if sides and all(side.conceded for side in sides):
        words = gettext_noop("Not every side can have conceded.")
        yield Violation(code="all_conceded", message=words, place="sides")


def _wrong_rounds(scenario: Scenario | None, rounds_played: int | None) -> Iterator[Violation]:
    if rounds_played is None:
        return
    most = scenario.rounds_most if scenario else None
    if rounds_played < 0:
        words = gettext_noop("Fewer than no rounds cannot have been played.")
        yield Violation(code="negative_rounds", message=words, place="rounds_played")
    elif most is not None and rounds_played > most:
        words = gettext_noop("The scenario ends after %(most)s rounds; %(played)s were reported.")
        args = {"most": most, "played": rounds_played}
        yield Violation(code="too_many_rounds", message=words, args=args, place="rounds_played")


def _of(side: SideClaim, code: str, message: str, *, objective: str = "", **args: object) -> Violation:
    place = f"sides[{side.position}]" + (f".objectives.{objective}" if objective else "")
    return Violation(code=code, message=message, args={"side": side.position, **args}, place=place)


def _wrong_objectives(scenario: Scenario | None, side: SideClaim) -> Iterator[Violation]:
    for key, count in (side.objectives or {}).items():
        objective = scenario.objective(key) if scenario else None
        if objective is None:
            words = gettext_noop("Side %(side)s: there is no objective “%(key)s” in this game.")
            yield _of(side, "unknown_objective", words, objective=key, key=key)
        elif count < 0:
            words = gettext_noop("Side %(side)s: “%(name)s” cannot be counted below nought.")
            yield _of(side, "negative_count", words, objective=key, name=objective.name)
        elif objective.most is not None and not objective.shared and count > objective.most:
            words = gettext_noop("Side %(side)s: “%(name)s” can be reached %(most)s times at most, not %(count)s.")
            args = {"name": objective.name, "most": objective.most, "count": count}
            yield _of(side, "objective_above_most", words, objective=key, **args)


def _wrong_score(scenario: Scenario | None, side: SideClaim) -> Iterator[Violation]:
    if side.score is None:
        return
    if side.score < 0:
        words = gettext_noop("Side %(side)s: a score cannot be below nought, as %(score)s is.")
        yield _of(side, "negative_score", words, score=side.score)
    most = most_reachable(scenario) if scenario else None
    if most is not None and side.score > most:
        words = gettext_noop("Side %(side)s: the scenario gives %(most)s at most, not %(score)s.")
        yield _of(side, "score_above_most", words, most=most, score=side.score)
    reached = objectives_score(scenario, side)
    if reached is not None and side.score != reached:
        words = gettext_noop("Side %(side)s: the objectives come to %(reached)s, but the score says %(score)s.")
        yield _of(side, "score_differs", words, reached=reached, score=side.score)


def _missing_score(scenario: Scenario | None, side: SideClaim) -> Iterator[Violation]:
    if side.score is None and objectives_score(scenario, side) is None:
        yield _of(side, "missing_score", gettext_noop("Side %(side)s: the score is missing."))


def _wrong_share(objective: Objective, sides: Sequence[SideClaim]) -> Iterator[Violation]:
    """Claims on something there are only so many of."""
    total = sum((side.objectives or {}).get(objective.key, 0) for side in sides)
    if objective.shared and objective.most is not None and total > objective.most:
        words = gettext_noop("“%(name)s”: there are %(most)s for all sides together, but %(total)s were claimed.")
        args = {"name": objective.name, "most": objective.most, "total": total}
        yield Violation(code="shared_above_most", message=words, args=args, place=f"objectives.{objective.key}")
