"""What a ruleset's parts must agree on among themselves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from league.engines.rulesets.kit_coherence import kit_incoherences
from league.engines.rulesets.model import (
    CasualtyTable,
    ClassCount,
    ClassShare,
    Ruleset,
    Scenario,
    UnitCount,
)
from league.engines.rulesets.saying import Incoherence, fault, twice, unknown
from league.engines.rulesets.violation import gettext_noop


def incoherences(ruleset: Ruleset) -> Iterator[Incoherence]:
    """Every disagreement between parts that are each well formed."""
    yield from _keys_once(ruleset)
    yield from _figures(ruleset)
    yield from _limits(ruleset)
    for index, table in enumerate(ruleset.casualty_tables):
        place = f"casualty_tables[{index}]"
        for number, key in enumerate(table.classes):
            yield from unknown(key, ruleset.unit_classes, "unit_classes", f"{place}.classes[{number}]")
        for number, key in enumerate(table.qualities):
            yield from unknown(key, ruleset.qualities, "qualities", f"{place}.qualities[{number}]")
        yield from _outcomes(table, place)
        yield from _never_reached(ruleset.casualty_tables[:index], table, place)
    for index, scenario in enumerate(ruleset.scenarios):
        yield from _scenario(scenario, f"scenarios[{index}]")
    yield from _steps(ruleset)
    yield from _scoring(ruleset)
    yield from kit_incoherences(ruleset)


def _keys_once(ruleset: Ruleset) -> Iterator[Incoherence]:
    yield from twice((each.key for each in ruleset.qualities), "qualities[{}].key")
    yield from twice((each.key for each in ruleset.unit_classes), "unit_classes[{}].key")
    yield from twice((each.key for each in ruleset.casualty_tables), "casualty_tables[{}].key")
    yield from twice((each.key for each in ruleset.scenarios), "scenarios[{}].key")
    yield from twice(ruleset.scoring.tie_breaks, "scoring.tie_breaks[{}]")
    for index, scenario in enumerate(ruleset.scenarios):
        yield from twice((each.key for each in scenario.sides), f"scenarios[{index}].sides[{{}}].key")
        yield from twice((each.key for each in scenario.objectives), f"scenarios[{index}].objectives[{{}}].key")
    for index, table in enumerate(ruleset.casualty_tables):
        yield from twice(table.classes, f"casualty_tables[{index}].classes[{{}}]")
        yield from twice(table.qualities, f"casualty_tables[{index}].qualities[{{}}]")


def _figures(ruleset: Ruleset) -> Iterator[Incoherence]:
    for index, each in enumerate(ruleset.unit_classes):
        if each.figures_least > each.figures_most:
            place = f"unit_classes[{index}]"
            yield _least_above_most(each.figures_least, each.figures_most, f"{place}.figures_least", f"{place}.figures")


def _least_above_most(least: int, most: int, place: str, *rests_on: str) -> Incoherence:
    words = gettext_noop("The least, %(least)s, is above the most, %(most)s.")
    return fault("least_above_most", words, place, *rests_on, least=least, most=most)


def _limits(ruleset: Ruleset) -> Iterator[Incoherence]:
    seen: set[tuple[type, str]] = set()
    for index, limit in enumerate(ruleset.limits):
        place = f"limits[{index}]"
        subject = limit.unit_class if isinstance(limit, ClassCount | ClassShare) else ""
        yield from unknown(subject, ruleset.unit_classes, "unit_classes", f"{place}.class")
        if (type(limit), subject) in seen:
            words = gettext_noop("There is a limit of this kind already; which of the two holds?")
            doubtful = [f"limits[{number}].{field}" for number in range(index + 1) for field in ("kind", "class")]
            yield fault("limit_twice", words, place, *doubtful)
        seen.add((type(limit), subject))
        if isinstance(limit, ClassCount | UnitCount) and limit.most is not None and limit.least > limit.most:
            yield _least_above_most(limit.least, limit.most, f"{place}.least", place)
    yield from _no_room(ruleset)


def _no_room(ruleset: Ruleset) -> Iterator[Incoherence]:
    """The classes' own least counts together need more units than a roster may have."""
    wanted = sum(each.least for each in ruleset.limits if isinstance(each, ClassCount))
    for index, limit in enumerate(ruleset.limits):
        if isinstance(limit, UnitCount) and limit.most is not None and wanted > limit.most:
            words = gettext_noop("The classes need %(wanted)s units at least, but a roster may have %(most)s.")
            place = f"limits[{index}].most"
            yield fault("no_legal_roster", words, place, "limits", wanted=wanted, most=limit.most)


def _outcomes(table: CasualtyTable, place: str) -> Iterator[Incoherence]:
    """Every reading of the die has exactly one outcome, and no outcome waits for a reading the die has not."""
    answers: Counter[int] = Counter()
    bounds = [f"{place}.die"]
    for index, outcome in enumerate(table.outcomes):
        here = f"{place}.outcomes[{index}]"
        own_bounds = [f"{here}.from", f"{here}.to"]
        bounds += own_bounds
        if outcome.first > outcome.last:
            words = gettext_noop("The range from %(first)s to %(last)s runs backwards.")
            yield fault("range_backwards", words, here, *own_bounds, first=outcome.first, last=outcome.last)
        elif outcome.last > table.die:
            words = gettext_noop("A die of %(die)s sides does not reach %(last)s.")
            yield fault("outside_die", words, here, bounds[0], *own_bounds, die=table.die, last=outcome.last)
        answers.update(range(outcome.first, outcome.last + 1))
    readings = range(1, table.die + 1) if table.outcomes else ()
    gaps = [reading for reading in readings if not answers[reading]]
    if gaps:
        words = gettext_noop("No outcome answers a roll of %(rolls)s.")
        yield fault("gap", words, f"{place}.outcomes", *bounds, rolls=_listed(gaps))
    overlaps = [reading for reading in readings if answers[reading] > 1]
    if overlaps:
        words = gettext_noop("More than one outcome answers a roll of %(rolls)s.")
        yield fault("overlap", words, f"{place}.outcomes", *bounds, rolls=_listed(overlaps))


def _listed(numbers: Iterable[int]) -> str:
    return ", ".join(str(each) for each in numbers)


def _never_reached(earlier: Sequence[CasualtyTable], table: CasualtyTable, place: str) -> Iterator[Incoherence]:
    for other in earlier:
        all_classes = not other.classes or (table.classes and set(table.classes) <= set(other.classes))
        all_qualities = not other.qualities or (table.qualities and set(table.qualities) <= set(other.qualities))
        if all_classes and all_qualities:
            words = gettext_noop("This table is never used: “%(name)s” before it answers for all its units.")
            tables = [f"casualty_tables[{number}]" for number in range(len(earlier) + 1)]
            doubtful = [f"{each}.{field}" for each in tables for field in ("classes", "qualities")]
            yield fault("never_reached", words, place, *doubtful, name=other.name)
            return


def _scenario(scenario: Scenario, place: str) -> Iterator[Incoherence]:
    for index, objective in enumerate(scenario.objectives):
        if objective.shared and objective.most is None:
            words = gettext_noop("An objective shared by the sides must say how many there are.")
            here = f"{place}.objectives[{index}]"
            yield fault("shared_without_most", words, f"{here}.shared", f"{here}.most")
    if scenario.score_most is not None and scenario.draw_margin >= scenario.score_most:
        words = gettext_noop("With a draw margin of %(margin)s and a score of at most %(most)s nobody can win.")
        rests_on = f"{place}.score_most"
        yield fault(
            "always_a_draw",
            words,
            f"{place}.draw_margin",
            rests_on,
            margin=scenario.draw_margin,
            most=scenario.score_most,
        )


def _steps(ruleset: Ruleset) -> Iterator[Incoherence]:
    steps = ruleset.experience.steps
    places = [f"experience.steps[{index}].at" for index in range(len(steps))]
    for index in range(1, len(steps)):
        if steps[index].at <= steps[index - 1].at:
            words = gettext_noop("Each step must come later than the one before; %(at)s does not.")
            both = places[index - 1 : index + 1]
            yield fault("steps_out_of_order", words, places[index], *both, at=steps[index].at)


def _scoring(ruleset: Ruleset) -> Iterator[Incoherence]:
    for index, bonus in enumerate(ruleset.scoring.bonuses):
        place = f"scoring.bonuses[{index}]"
        if bonus.kind == "count_at_least" and not bonus.count:
            words = gettext_noop("A bonus for a count must say which count.")
            yield fault("bonus_without_count", words, f"{place}.count", f"{place}.kind")
        if bonus.kind != "count_at_least" and bonus.count:
            words = gettext_noop("Only a bonus for a count names a count.")
            yield fault("bonus_with_count", words, f"{place}.count", f"{place}.kind")
