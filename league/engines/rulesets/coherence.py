"""What a ruleset's parts must agree on among themselves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from league.engines.rulesets.model import (
    CasualtyTable,
    ClassCount,
    ClassShare,
    Quality,
    Ruleset,
    Scenario,
    UnitClass,
    UnitCount,
)
from league.engines.rulesets.violation import Violation, gettext_noop


@dataclass(frozen=True, kw_only=True, slots=True)
class Incoherence:
    """A fault of sense. `rests_on` are the places it was concluded from."""

    violation: Violation
    rests_on: tuple[str, ...]

    def is_doubtful(self, faulty: Iterable[str]) -> bool:
        """Whether it only follows from a fault of form: one of its places, or what holds it or lies in it, is faulty."""
        return any(
            place.startswith(rest) or rest.startswith((f"{place}.", f"{place}["))
            for place in faulty
            for rest in self.rests_on
        )


def incoherences(ruleset: Ruleset) -> Iterator[Incoherence]:
    """Every disagreement between parts that are each well formed."""
    yield from _keys_once(ruleset)
    yield from _figures(ruleset)
    yield from _limits(ruleset)
    for index, table in enumerate(ruleset.casualty_tables):
        place = f"casualty_tables[{index}]"
        for number, key in enumerate(table.classes):
            yield from _unknown(key, ruleset.unit_classes, "unit_classes", f"{place}.classes[{number}]")
        for number, key in enumerate(table.qualities):
            yield from _unknown(key, ruleset.qualities, "qualities", f"{place}.qualities[{number}]")
        yield from _outcomes(table, place)
        yield from _never_reached(ruleset.casualty_tables[:index], table, place)
    for index, scenario in enumerate(ruleset.scenarios):
        yield from _scenario(scenario, f"scenarios[{index}]")
    yield from _steps(ruleset)
    yield from _scoring(ruleset)


def _fault(code: str, message: str, place: str, *rests_on: str, **args: object) -> Incoherence:
    violation = Violation(code=code, message=message, args=args, place=place)
    return Incoherence(violation=violation, rests_on=rests_on or (place,))


def _keys_once(ruleset: Ruleset) -> Iterator[Incoherence]:
    yield from _twice((each.key for each in ruleset.qualities), "qualities[{}].key")
    yield from _twice((each.key for each in ruleset.unit_classes), "unit_classes[{}].key")
    yield from _twice((each.key for each in ruleset.casualty_tables), "casualty_tables[{}].key")
    yield from _twice((each.key for each in ruleset.scenarios), "scenarios[{}].key")
    yield from _twice(ruleset.scoring.tie_breaks, "scoring.tie_breaks[{}]")
    for index, scenario in enumerate(ruleset.scenarios):
        yield from _twice((each.key for each in scenario.sides), f"scenarios[{index}].sides[{{}}].key")
        yield from _twice((each.key for each in scenario.objectives), f"scenarios[{index}].objectives[{{}}].key")
    for index, table in enumerate(ruleset.casualty_tables):
        yield from _twice(table.classes, f"casualty_tables[{index}].classes[{{}}]")
        yield from _twice(table.qualities, f"casualty_tables[{index}].qualities[{{}}]")


def _twice(keys: Iterable[str], place: str) -> Iterator[Incoherence]:
    """A fault at every key that stood before; keys faulty in form read as empty and are passed over."""
    seen: set[str] = set()
    for index, key in enumerate(keys):
        if key and key in seen:
            yield _fault("twice", gettext_noop("“%(key)s” is used twice."), place.format(index), key=key)
        seen.add(key)


def _unknown(key: str, described: Sequence[Quality | UnitClass], where: str, place: str) -> Iterator[Incoherence]:
    """A key that the list at `where` does not describe; in doubt if a key of that list cannot be read."""
    if key and all(each.key != key for each in described):
        words = gettext_noop("“%(key)s” is described nowhere in this ruleset.")
        unreadable = [f"{where}[{index}]" for index, each in enumerate(described) if not each.key]
        yield _fault("unknown_key", words, place, *(unreadable if described else [where]), key=key)


def _figures(ruleset: Ruleset) -> Iterator[Incoherence]:
    for index, each in enumerate(ruleset.unit_classes):
        if each.figures_least > each.figures_most:
            place = f"unit_classes[{index}]"
            yield _least_above_most(each.figures_least, each.figures_most, f"{place}.figures_least", f"{place}.figures")


def _least_above_most(least: int, most: int, place: str, *rests_on: str) -> Incoherence:
    words = gettext_noop("The least, %(least)s, is above the most, %(most)s.")
    return _fault("least_above_most", words, place, *rests_on, least=least, most=most)


def _limits(ruleset: Ruleset) -> Iterator[Incoherence]:
    seen: set[tuple[type, str]] = set()
    for index, limit in enumerate(ruleset.limits):
        place = f"limits[{index}]"
        subject = limit.unit_class if isinstance(limit, ClassCount | ClassShare) else ""
        yield from _unknown(subject, ruleset.unit_classes, "unit_classes", f"{place}.class")
        if (type(limit), subject) in seen:
            words = gettext_noop("There is a limit of this kind already; which of the two holds?")
            doubtful = [f"limits[{number}].{field}" for number in range(index + 1) for field in ("kind", "class")]
            yield _fault("limit_twice", words, place, *doubtful)
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
            yield _fault("no_legal_roster", words, place, "limits", wanted=wanted, most=limit.most)


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
            yield _fault("range_backwards", words, here, *own_bounds, first=outcome.first, last=outcome.last)
        elif outcome.last > table.die:
            words = gettext_noop("A die of %(die)s sides does not reach %(last)s.")
            yield _fault("outside_die", words, here, bounds[0], *own_bounds, die=table.die, last=outcome.last)
        answers.update(range(outcome.first, outcome.last + 1))
    readings = range(1, table.die + 1) if table.outcomes else ()
    gaps = [reading for reading in readings if not answers[reading]]
    if gaps:
        words = gettext_noop("No outcome answers a roll of %(rolls)s.")
        yield _fault("gap", words, f"{place}.outcomes", *bounds, rolls=_listed(gaps))
    overlaps = [reading for reading in readings if answers[reading] > 1]
    if overlaps:
        words = gettext_noop("More than one outcome answers a roll of %(rolls)s.")
        yield _fault("overlap", words, f"{place}.outcomes", *bounds, rolls=_listed(overlaps))


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
            yield _fault("never_reached", words, place, *doubtful, name=other.name)
            return


def _scenario(scenario: Scenario, place: str) -> Iterator[Incoherence]:
    for index, objective in enumerate(scenario.objectives):
        if objective.shared and objective.most is None:
            words = gettext_noop("An objective shared by the sides must say how many there are.")
            here = f"{place}.objectives[{index}]"
            yield _fault("shared_without_most", words, f"{here}.shared", f"{here}.most")
    if scenario.score_most is not None and scenario.draw_margin >= scenario.score_most:
        words = gettext_noop("With a draw margin of %(margin)s and a score of at most %(most)s nobody can win.")
        rests_on = f"{place}.score_most"
        yield _fault(
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
            yield _fault("steps_out_of_order", words, places[index], *both, at=steps[index].at)


def _scoring(ruleset: Ruleset) -> Iterator[Incoherence]:
    for index, bonus in enumerate(ruleset.scoring.bonuses):
        place = f"scoring.bonuses[{index}]"
        if bonus.kind == "count_at_least" and not bonus.count:
            words = gettext_noop("A bonus for a count must say which count.")
            yield _fault("bonus_without_count", words, f"{place}.count", f"{place}.kind")
        if bonus.kind != "count_at_least" and bonus.count:
            words = gettext_noop("Only a bonus for a count names a count.")
            yield _fault("bonus_with_count", words, f"{place}.count", f"{place}.kind")
