"""Whether a roster is legal under a ruleset, and everything that is not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from league.engines.rulesets import (
    ClassCount,
    ClassShare,
    PointsCap,
    Ruleset,
    UnitCount,
    UnitId,
    Violation,
    gettext_noop,
)

__all__ = ["ListedUnit", "violations"]


@dataclass(frozen=True, kw_only=True, slots=True)
class ListedUnit:
    """A unit on a roster. `quality` empty: the roster does not say, which is always legal."""

    id: UnitId
    name: str
    unit_class: str
    quality: str = ""
    figures: int
    points: int


def violations(
    units: Iterable[ListedUnit], ruleset: Ruleset, *, points_limit: int | None = None
) -> tuple[Violation, ...]:
    """Everything illegal about `units` at once: first unit by unit, then the roster as a whole; empty when legal.

    `points_limit` is what the players agreed on for this roster; it holds beside the ruleset's own cap.
    Two units may bear the same name.
    """
    listed = tuple(units)
    return (
        *(each for unit in listed for each in _unit(unit, ruleset)),
        *_points(listed, ruleset, points_limit),
        *_counts(listed, ruleset),
        *_shares(listed, ruleset),
    )


def _unit(unit: ListedUnit, ruleset: Ruleset) -> Iterator[Violation]:
    unit_class = ruleset.unit_class(unit.unit_class)
    if unit_class is None:
        words = gettext_noop("%(unit)s: the ruleset knows no class “%(class)s”.")
        yield _of(unit, "unknown_class", words, **{"class": unit.unit_class})
    elif not unit_class.figures_least <= unit.figures <= unit_class.figures_most:
        words = gettext_noop("%(unit)s: %(class)s has %(least)s to %(most)s figures, not %(figures)s.")
        figures = {"least": unit_class.figures_least, "most": unit_class.figures_most, "figures": unit.figures}
        yield _of(unit, "figures_out_of_range", words, **{"class": unit_class.name}, **figures)
    if unit_class is None and unit.figures < 1:
        yield _of(unit, "no_figures", gettext_noop("%(unit)s: a unit has at least one figure."))
    if unit.quality and ruleset.quality(unit.quality) is None:
        words = gettext_noop("%(unit)s: the ruleset knows no quality “%(quality)s”.")
        yield _of(unit, "unknown_quality", words, quality=unit.quality)
    if unit.points < 0:
        words = gettext_noop("%(unit)s: points cannot be below nought, as %(points)s is.")
        yield _of(unit, "negative_points", words, points=unit.points)


def _of(unit: ListedUnit, code: str, message: str, **args: object) -> Violation:
    return Violation(code=code, message=message, args={"unit": unit.name, **args}, unit_id=unit.id)


def _points(units: Sequence[ListedUnit], ruleset: Ruleset, points_limit: int | None) -> Iterator[Violation]:
    total = _total(units)
    for cap in (each for each in ruleset.limits if isinstance(each, PointsCap)):
        if total > cap.most:
            words = gettext_noop("The ruleset allows %(most)s points; this roster has %(total)s.")
            yield Violation(code="above_points_cap", message=words, args={"most": cap.most, "total": total})
    if points_limit is not None and total > points_limit:
        words = gettext_noop("The roster is limited to %(most)s points; it has %(total)s.")
        yield Violation(code="above_points_limit", message=words, args={"most": points_limit, "total": total})


def _total(units: Iterable[ListedUnit]) -> int:
    return sum(max(unit.points, 0) for unit in units)


def _counts(units: Sequence[ListedUnit], ruleset: Ruleset) -> Iterator[Violation]:
    for limit in ruleset.limits:
        if isinstance(limit, UnitCount):
            yield from _count(len(units), limit, name=gettext_noop("units"), code="units")
        elif isinstance(limit, ClassCount):
            count = sum(unit.unit_class == limit.unit_class for unit in units)
            yield from _count(count, limit, name=_class_name(limit.unit_class, ruleset), code="of_class")


def _count(count: int, limit: UnitCount | ClassCount, *, name: str, code: str) -> Iterator[Violation]:
    args = {"what": name, "count": count, "least": limit.least, "most": limit.most}
    if count < limit.least:
        words = gettext_noop("Too few: at least %(least)s of %(what)s are needed, there are %(count)s.")
        yield Violation(code=f"too_few_{code}", message=words, args=args)
    if limit.most is not None and count > limit.most:
        words = gettext_noop("Too many: at most %(most)s of %(what)s are allowed, there are %(count)s.")
        yield Violation(code=f"too_many_{code}", message=words, args=args)


def _class_name(key: str, ruleset: Ruleset) -> str:
    unit_class = ruleset.unit_class(key)
    return unit_class.name if unit_class else key


def _shares(units: Sequence[ListedUnit], ruleset: Ruleset) -> Iterator[Violation]:
    """A share is compared by cross-multiplying whole numbers: 35 % is exactly 35 %, never 35.000001."""
    total = _total(units)
    for limit in (each for each in ruleset.limits if isinstance(each, ClassShare)):
        points = _total(unit for unit in units if unit.unit_class == limit.unit_class)
        if points * 100 > limit.most_percent * total:
            words = gettext_noop(
                "%(what)s may be at most %(most)s%% of the points; here it is %(points)s of %(total)s."
            )
            name = _class_name(limit.unit_class, ruleset)
            args = {"what": name, "most": limit.most_percent, "points": points, "total": total}
            yield Violation(code="above_class_share", message=words, args=args)
