"""What is wrong with an outcome of a battle before it becomes a fact, everything at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace

from league.engines.rulesets import UnitId, Violation, gettext_noop
from league.engines.strength import check_casualties
from league.engines.war.model import BattleOutcome, Campaign, ForceOutcome
from league.engines.war.state import Battle, TurnState

__all__ = ["check"]


def check(
    campaign: Campaign,
    state: TurnState,
    outcome: BattleOutcome,
    *,
    names: Mapping[UnitId, str] | None = None,
) -> tuple[Violation, ...]:
    """Everything wrong with an outcome, given the turn's state before it. Empty: it can be booked.

    `names` are what the messages call the units. The dice of those who fell are `fates.check_rolls`' business.
    """
    return tuple(_wrong(campaign, state, outcome, names or {}))


def _wrong(
    campaign: Campaign, state: TurnState, outcome: BattleOutcome, names: Mapping[UnitId, str]
) -> Iterator[Violation]:
    battle = state.battle(outcome.battle)
    if battle is None:
        words = gettext_noop("The map of turn %(turn)s knows no battle %(battle)s.")
        yield Violation(code="unknown_battle", message=words, args={"turn": state.turn, "battle": outcome.battle})
        return
    if state.phase != "battles":
        words = gettext_noop("No battles are being fought now: the orders are not revealed, or the turn is closed.")
        yield Violation(code="not_now", message=words)
    if battle.outcome is not None:
        words = gettext_noop("There is a report of this battle already; correct that one.")
        yield Violation(code="told_already", message=words)
    if outcome.winner and outcome.winner not in battle.factions:
        faction = campaign.faction(outcome.winner)
        words = gettext_noop("%(faction)s took no part in this battle and cannot have won it.")
        name = faction.name if faction else outcome.winner
        yield Violation(code="winner_not_there", message=words, args={"faction": name})
    if outcome.source == "conceded" and not outcome.winner:
        words = gettext_noop("A battle that was conceded has a winner.")
        yield Violation(code="nobody_conceded_to", message=words)
    if outcome.captured is not None and outcome.captured < 0:
        words = gettext_noop("No less than nothing can be captured.")
        yield Violation(code="negative_captured", message=words)
    times = Counter(each.force for each in outcome.forces)
    for number, each in enumerate(outcome.forces):
        if times[each.force] > 1:
            words = gettext_noop("%(force)s stands in the report more than once.")
            args = {"force": _name(state, each.force)}
            yield Violation(code="force_twice", message=words, args=args, place=f"forces[{number}]")
        for found in _force(state, battle, each, names):
            yield replace(found, place=f"forces[{number}]")


def _name(state: TurnState, force: str) -> str:
    return state.forces[force].name if force in state.forces else force


def _force(state: TurnState, battle: Battle, told: ForceOutcome, names: Mapping[UnitId, str]) -> Iterator[Violation]:
    args = {"force": _name(state, told.force)}
    if told.force not in battle.forces:
        yield Violation(code="force_not_there", message=gettext_noop("%(force)s is not in this battle."), args=args)
        return
    force = state.forces[told.force]
    if told.supply_used is not None and told.supply_used < 0:
        words = gettext_noop("%(force)s cannot have used less supply than none.")
        yield Violation(code="negative_supply", message=words, args=args)
    fielded = told.fielded or frozenset(key for key, here in force.states.items() if here.present)
    yield from check_casualties(force.states, told.casualties, fielded, names=names)
