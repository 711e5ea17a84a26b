"""The battles of a war that were really fought, as the fit of the club's own laws takes them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from league.engines.attrition import Fought
from league.engines.war.fold import advance
from league.engines.war.model import BattleOutcome, Campaign, Closed, Fact, Laws, in_force
from league.engines.war.simulate import CannotSimulate, foretell
from league.engines.war.state import Battle, TurnState

__all__ = ["fought_of"]


def fought_of(campaign: Campaign, facts: Iterable[Fact], states: Sequence[TurnState]) -> Iterator[Fought]:
    """Every battle of two sides whose outcome came from a report: the numbers and powers both sides went in with, and
    what each lost. `states` are `replay`'s of the same facts."""
    by_turn: defaultdict[int, list[Fact]] = defaultdict(list)
    for fact in in_force(facts):
        by_turn[fact.turn].append(fact)
    for before, after in pairwise(states):
        told = [each for each in after.battles if each.outcome is not None and each.outcome.source == "report"]
        if not told:
            continue
        others = [each for each in by_turn[after.turn] if not isinstance(each, BattleOutcome | Closed)]
        eve = advance(campaign, before, others)
        for battle in told:
            fought = _fought(campaign, eve, battle)
            if fought is not None:
                yield fought


def _fought(campaign: Campaign, eve: TurnState, battle: Battle) -> Fought | None:
    outcome = battle.outcome
    try:
        first, second = foretell(campaign, eve, battle.id, laws=Laws()).sides
    except CannotSimulate:
        return None
    if outcome is None:
        return None
    fell = {each.force: sum(line.figures_lost for line in each.casualties) for each in outcome.forces}
    winner = outcome.winner
    return Fought(
        first_figures=first.figures,
        second_figures=second.figures,
        first_power=first.power,
        second_power=second.power,
        law=1.0 if campaign.rules.ground(battle.terrain).law == "square" else 0.0,
        defender=-1 if battle.sides[1].role == "defender" else 0,
        first_lost=sum(fell.get(each, 0) for each in first.side.forces),
        second_lost=sum(fell.get(each, 0) for each in second.side.forces),
        winner="nobody" if not winner else "first" if winner in first.side.factions else "second",
    )
