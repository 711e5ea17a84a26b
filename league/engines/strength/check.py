"""Whether reported casualties can be, given how the units stood."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from league.engines.rulesets import UnitId, Violation, gettext_noop
from league.engines.strength.model import Casualty, UnitState

__all__ = ["check_casualties"]


def check_casualties(
    states: Mapping[UnitId, UnitState],
    casualties: Sequence[Casualty],
    fielded: Collection[UnitId],
    *,
    names: Mapping[UnitId, str] | None = None,
) -> tuple[Violation, ...]:
    """Everything that cannot be about a report, given the `states` before the battle (`states_before`).

    `names` are what the messages call the units; without them, their ids. Dice are `fates.check_rolls`' business.
    """
    found = (
        *(each for unit_id in sorted(fielded, key=str) for each in _fielded(unit_id, states)),
        *_twice(casualties),
        *(each for casualty in casualties for each in _casualty(casualty, states, fielded)),
    )
    called = names or {}
    return tuple(
        replace(each, args={"unit": called.get(each.unit_id, each.unit_id), **each.args})
        for each in found
        if each.unit_id is not None
    )


def _of(unit_id: UnitId, code: str, message: str, **args: object) -> Violation:
    return Violation(code=code, message=message, args=args, unit_id=unit_id)


def _fielded(unit_id: UnitId, states: Mapping[UnitId, UnitState]) -> Iterator[Violation]:
    state = states.get(unit_id)
    if state is None:
        yield _of(unit_id, "unknown_unit", gettext_noop("%(unit)s: the roster has no such unit."))
    elif state.gone:
        yield _of(unit_id, "unit_gone", gettext_noop("%(unit)s: nobody is left of this unit to take the field."))
    elif state.out_games_left is not None:
        words = gettext_noop("%(unit)s: the unit is recovering and misses this battle; battles to miss: %(games)s.")
        yield _of(unit_id, "unit_out", words, games=state.out_games_left)
    elif state.out:
        words = gettext_noop("%(unit)s: the dice for its last losses are not thrown yet, so nobody can take the field.")
        yield _of(unit_id, "unit_awaits_dice", words)


def _twice(casualties: Sequence[Casualty]) -> Iterator[Violation]:
    for unit_id, lines in Counter(each.unit_id for each in casualties).items():
        if lines > 1:
            yield _of(unit_id, "unit_twice", gettext_noop("%(unit)s: there is more than one line for this unit."))


def _casualty(
    casualty: Casualty, states: Mapping[UnitId, UnitState], fielded: Collection[UnitId]
) -> Iterator[Violation]:
    unit_id, lost = casualty.unit_id, casualty.figures_lost
    if unit_id not in fielded:
        yield _of(unit_id, "not_fielded", gettext_noop("%(unit)s: the unit did not take the field."))
        if unit_id not in states:
            yield _of(unit_id, "unknown_unit", gettext_noop("%(unit)s: the roster has no such unit."))
    if lost < 0:
        words = gettext_noop("%(unit)s: it cannot lose fewer than no figures, as %(lost)s would be.")
        yield _of(unit_id, "negative_figures", words, lost=lost)
    if not (lost or casualty.destroyed or casualty.routed):
        yield _of(unit_id, "says_nothing", gettext_noop("%(unit)s: a casualty line must say what was lost."))
    standing = states[unit_id].present if unit_id in states else None
    if standing is None:
        return
    if lost > standing:
        words = gettext_noop("%(unit)s: %(lost)s figures lost, but only %(standing)s stood there.")
        yield _of(unit_id, "more_lost_than_stood", words, lost=lost, standing=standing)
    if casualty.destroyed and 0 <= lost < standing:
        words = gettext_noop("%(unit)s: destroyed means all %(standing)s figures that stood are lost, not %(lost)s.")
        yield _of(unit_id, "destroyed_with_survivors", words, lost=lost, standing=standing)
