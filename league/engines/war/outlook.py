"""How the war may end, by playing it on many times by chance; and who is being driven off.

Nobody knows what will be ordered, so every force goes by one stated rule: each turn it holds with even odds, and else
marches as far as it can towards the nearest region its side does not hold, the worthier first among equally near ones.
Battles are drawn by `simulate`. This says which way the war leans if both sides play alike; it is no forecast of
anybody's plan.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import sqrt

from league.engines.war.fold import advance
from league.engines.war.model import (
    BattleOutcome,
    Campaign,
    Closed,
    Fact,
    Hold,
    Laws,
    Move,
    OrderSet,
    Postponed,
    Revealed,
    Roll,
)
from league.engines.war.simulate import CannotSimulate, simulate
from league.engines.war.state import ForceState, TurnState
from league.engines.war.working import chart_of

__all__ = ["Handicap", "Odds", "Outlook", "outlook"]

HALF = 0.5
HORIZON = 8


@dataclass(frozen=True, kw_only=True, slots=True)
class Odds:
    """A faction's prospects. `chance` of winning, alone or shared, with its Monte-Carlo standard `error`; the means of
    its points, of the worth it holds and of its figures at the end; how often it then stands below half of today's
    worth or figures (`driven_off`)."""

    faction: str
    chance: float
    error: float
    points: float
    worth_now: int
    worth: float
    figures_now: int
    figures: float
    driven_off: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Handicap:
    """So many points more would have given this side an even share of the wars that are decided by points."""

    faction: str
    points: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Outlook:
    """`ended` is the share of runs in which the war was over by its rules within `turns` turns; the others are decided
    by the points at that time."""

    runs: int
    turns: int
    ended: float
    odds: tuple[Odds, ...]
    handicaps: tuple[Handicap, ...] = field(default=())

    @property
    def driven_off(self) -> tuple[str, ...]:
        """The factions that lose half of what they have in more than half of the runs."""
        return tuple(each.faction for each in self.odds if each.driven_off > HALF)


def outlook(
    campaign: Campaign,
    state: TurnState,
    *,
    seed: int,
    runs: int = 100,
    turns: int = HORIZON,
    laws: Laws | None = None,
) -> Outlook:
    """Play on from a closed turn. `turns` is how far at most; a war with a last turn ends there.

    Raises:
        ValueError: the turn is not closed, or there is nothing to run.
    """
    if state.phase != "closed" or runs < 1 or turns < 1:
        raise ValueError("An outlook begins at a closed turn and has runs and turns.")
    ends = [_Run(campaign, random.Random(f"{seed}/{run}"), laws or Laws()).play(state, turns) for run in range(runs)]  # noqa: S311 - odds, not secrets
    won = [_winners(each) for each in ends]
    factions = [each.key for each in campaign.factions]
    return Outlook(
        runs=runs,
        turns=turns,
        ended=sum(each.ended is not None for each in ends) / runs,
        odds=tuple(_odds(key, state, ends, won) for key in factions),
        handicaps=tuple(_handicaps(campaign, ends, won)),
    )


def _winners(end: TurnState) -> tuple[str, ...]:
    if end.ended:
        return end.ended.winners
    best = max(end.points.values(), default=0)
    return tuple(key for key, points in end.points.items() if points == best)


def _odds(faction: str, now: TurnState, ends: Sequence[TurnState], won: Sequence[tuple[str, ...]]) -> Odds:
    runs = len(ends)
    chance = sum(faction in each for each in won) / runs
    worth_now, figures_now = _worth(now, faction), _figures(now, faction)
    after = [(_worth(each, faction), _figures(each, faction)) for each in ends]
    off = sum(worth < worth_now * HALF or figures < figures_now * HALF for worth, figures in after)
    return Odds(
        faction=faction,
        chance=chance,
        error=sqrt(chance * (1 - chance) / runs),
        points=sum(each.points.get(faction, 0) for each in ends) / runs,
        worth_now=worth_now,
        worth=sum(worth for worth, _ in after) / runs,
        figures_now=figures_now,
        figures=sum(figures for _, figures in after) / runs,
        driven_off=off / runs,
    )


def _worth(state: TurnState, faction: str) -> int:
    regions = chart_of(state.map).regions
    return sum(regions[key].worth for key, holder in state.control.items() if holder == faction and key in regions)


def _figures(state: TurnState, faction: str) -> int:
    return sum(each.present for each in state.standing if each.faction == faction)


def _handicaps(campaign: Campaign, ends: Sequence[TurnState], won: Sequence[tuple[str, ...]]) -> Iterator[Handicap]:
    """For whoever wins less than an even share: the lead that an even share of the runs stay within."""
    fair = 1 / max(1, len(campaign.factions))
    for faction in campaign.factions:
        if sum(faction.key in each for each in won) / len(ends) >= fair:
            continue
        behind = sorted(
            max(each.points.values(), default=0) - each.points.get(faction.key, 0)
            for each in ends
            if each.ended is None or each.ended.reason in ("last_turn", "points")
        )
        place = int(fair * len(ends))
        if place < len(behind) and behind[place] > 0:
            yield Handicap(faction=faction.key, points=behind[place])


class _Run:
    """One war played on."""

    def __init__(self, campaign: Campaign, dice: random.Random, laws: Laws) -> None:
        self.campaign, self.dice, self.laws = campaign, dice, laws
        self.number = 0

    def play(self, state: TurnState, turns: int) -> TurnState:
        for _ in range(turns):
            if state.ended:
                break
            state = self._turn(state)
        return state

    def _turn(self, before: TurnState) -> TurnState:
        turn = before.turn + 1
        facts: list[Fact] = [
            OrderSet(
                id=(number := self._next()),
                sequence=number,
                turn=turn,
                faction=each.key,
                orders=tuple(self._orders(before, each.key)),
            )
            for each in self.campaign.factions
        ]
        facts.append(Revealed(id=(number := self._next()), sequence=number, turn=turn))
        state = advance(self.campaign, before, facts)
        for wanted in state.rolls_needed:
            results = tuple(self.dice.randint(1, wanted.sides) for _ in range(wanted.count))
            facts.append(
                Roll(
                    id=(number := self._next()),
                    sequence=number,
                    turn=turn,
                    label=wanted.label,
                    sides=wanted.sides,
                    results=results,
                )
            )
        if state.rolls_needed:
            state = advance(self.campaign, before, facts)
        facts += [self._fought(state, each.id, turn) for each in state.battles]
        facts.append(Closed(id=(number := self._next()), sequence=number, turn=turn))
        return advance(self.campaign, before, facts)

    def _next(self) -> int:
        self.number += 1
        return self.number

    def _fought(self, state: TurnState, battle: str, turn: int) -> Fact:
        seed = f"{self.dice.getrandbits(256):064x}"
        try:
            drawn = simulate(self.campaign, state, battle, seed=seed, laws=self.laws)
        except CannotSimulate:
            return Postponed(id=(number := self._next()), sequence=number, turn=turn, battle=battle)
        return BattleOutcome(
            id=(number := self._next()),
            sequence=number,
            turn=turn,
            battle=battle,
            winner=drawn.winner,
            forces=drawn.forces,
            source="simulated",
        )

    def _orders(self, state: TurnState, faction: str) -> Iterator[Move | Hold]:
        for force in state.standing:
            if force.faction != faction or force.battle:
                continue
            roads = self._way(state, force) if self.dice.random() < HALF else ()
            yield Move(force=force.key, roads=roads) if roads else Hold(force=force.key)

    def _way(self, state: TurnState, force: ForceState) -> tuple[str, ...]:
        """The first steps, as many as its pace, of a shortest way to a region its side does not hold."""
        chart = chart_of(state.map)
        ways: dict[str, tuple[str, ...]] = {force.region: ()}
        ring = [force.region]
        while ring:
            aims = [each for each in ring if ways[each] and not self._ours(state.control, each, force.faction)]
            if aims:
                best = max(chart.regions[each].worth for each in aims)
                aim = self.dice.choice([each for each in aims if chart.regions[each].worth == best])
                return ways[aim][: max(1, force.pace)]
            beyond = []
            for here in ring:
                for road in chart.roads_at[here]:
                    there = road.other(here)
                    if there not in ways:
                        ways[there] = (*ways[here], road.key)
                        beyond.append(there)
            ring = beyond
        return ()

    def _ours(self, control: Mapping[str, str], region: str, faction: str) -> bool:
        return region in control and not self.campaign.hostile(control[region], faction)
