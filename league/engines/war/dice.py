"""Every roll that was drawn, drawn again.

Before a turn its seed is fixed and its SHA-256 shown (`commitment`); dice come out of the seed as
`league.engines.fates.draw_rolls` has it; after the turn the seed is told. Then anybody can see that the seed is the one
that was promised, and that each roll is what it gives.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from league.engines.fates import draw_rolls, seed_commitment
from league.engines.war.fold import advance, replay
from league.engines.war.model import (
    BattleOutcome,
    Campaign,
    Closed,
    Fact,
    FactId,
    ForceOutcome,
    Roll,
    TurnSeed,
    in_force,
)
from league.engines.war.simulate import CannotSimulate, simulate
from league.engines.war.state import RollNeeded, TurnState

__all__ = ["RollCheck", "SeedCheck", "check", "check_seeds", "drawn"]

Verdict = Literal["right", "wrong", "seed_kept", "no_seed"]


@dataclass(frozen=True, kw_only=True, slots=True)
class SeedCheck:
    """A turn's seed: `told` is empty while it is kept; `kept_word` whether it is the one that was promised."""

    turn: int
    commitment: str
    told: str
    kept_word: bool | None


@dataclass(frozen=True, kw_only=True, slots=True)
class RollCheck:
    """One drawn roll: `given` is what was booked, `drawn` what the told seed gives under the label."""

    fact: FactId
    turn: int
    label: str
    sides: int
    given: tuple[int, ...]
    drawn: tuple[int, ...]
    verdict: Verdict


def drawn(seed: str, needed: RollNeeded) -> tuple[int, ...]:
    """The dice the fold asks for, out of the turn's seed."""
    return draw_rolls(seed, needed.label, needed.count, needed.sides)


def check_seeds(facts: Iterable[Fact]) -> tuple[SeedCheck, ...]:
    """Each turn's seed against the first commitment that was shown for it, whatever was booked afterwards."""
    promised: dict[int, str] = {}
    told: dict[int, str] = {}
    for each in sorted(facts, key=lambda fact: fact.sequence):
        if isinstance(each, TurnSeed):
            promised.setdefault(each.turn, each.commitment)
            told[each.turn] = each.seed or told.get(each.turn, "")
    return tuple(
        SeedCheck(
            turn=turn,
            commitment=commitment,
            told=told[turn],
            kept_word=_matches(told[turn], commitment) if told[turn] else None,
        )
        for turn, commitment in sorted(promised.items())
    )


def _matches(seed: str, commitment: str) -> bool:
    try:
        return seed_commitment(seed) == commitment
    except ValueError:
        return False


def check(campaign: Campaign, facts: Iterable[Fact]) -> tuple[RollCheck, ...]:
    """Every drawn roll and every simulated battle in force, in their order.

    A simulated battle is fought again from the state of its turn, with nothing but the seed and the laws that were
    booked with it; `given` and `drawn` are then the losses unit by unit and the dice of those who fell.
    """
    known = tuple(facts)
    seeds = {each.turn: each for each in check_seeds(known)}
    standing = in_force(known)
    states = replay(campaign, known)
    by_turn: defaultdict[int, list[Fact]] = defaultdict(list)
    for each in standing:
        by_turn[each.turn].append(each)

    def found() -> Iterator[RollCheck]:
        for each in standing:
            seed = seeds.get(each.turn)
            if isinstance(each, Roll) and each.thrown == "drawn":
                yield _of_roll(each, seed)
            elif isinstance(each, BattleOutcome) and each.source == "simulated" and 1 <= each.turn <= len(states):
                others = [fact for fact in by_turn[each.turn] if not isinstance(fact, BattleOutcome | Closed)]
                before = states[each.turn - 1]
                yield _of_battle(campaign, each, seed, advance(campaign, before, others) if seed else None)

    return tuple(found())


def _of_roll(roll: Roll, seed: SeedCheck | None) -> RollCheck:
    told = RollCheck(
        fact=roll.id,
        turn=roll.turn,
        label=roll.label,
        sides=roll.sides,
        given=roll.results,
        drawn=(),
        verdict=_without_dice(seed),
    )
    if told.verdict != "right" or seed is None:
        return told
    dice = draw_rolls(seed.told, roll.label, len(roll.results), roll.sides)
    return replace(told, drawn=dice, verdict="right" if dice == roll.results else "wrong")


def _without_dice(seed: SeedCheck | None) -> Verdict:
    if seed is None:
        return "no_seed"
    if not seed.told:
        return "seed_kept"
    return "right" if seed.kept_word else "wrong"


def _of_battle(
    campaign: Campaign, outcome: BattleOutcome, seed: SeedCheck | None, state: TurnState | None
) -> RollCheck:
    told = RollCheck(
        fact=outcome.id,
        turn=outcome.turn,
        label=outcome.label,
        sides=0,
        given=_as_numbers(outcome.forces),
        drawn=(),
        verdict=_without_dice(seed),
    )
    if told.verdict != "right" or seed is None or state is None:
        return told
    try:
        again = simulate(campaign, state, outcome.battle, seed=seed.told, laws=outcome.laws)
    except CannotSimulate:
        return replace(told, verdict="wrong")
    right = (again.winner, again.label, again.forces) == (outcome.winner, outcome.label, outcome.forces)
    return replace(told, drawn=_as_numbers(again.forces), verdict="right" if right else "wrong")


def _as_numbers(forces: Iterable[ForceOutcome]) -> tuple[int, ...]:
    return tuple(
        number for force in forces for line in force.casualties for number in (line.figures_lost, *(line.rolls or ()))
    )
