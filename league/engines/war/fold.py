"""The state of any turn: a fold over everything that was ordered, reported, rolled and ruled.

A turn goes through its phases in this order, whatever order its facts came in:

1. orders: a new map, outside battles and rulings meant for this phase;
2. reveal: orders are carried out together (`marches`); enemies who meet have a battle to plan;
3. supply: sources produce, forces are fed, depots built, loads sent (`feeding`);
4. battles: reports, concessions and simulations leave their scars (`fights`);
5. aftermath: the beaten leave, regions change hands, hunger, recruits (`aftermath`); then rulings; then points.

Nothing raises on facts that cannot be right any more since an earlier one was corrected: they change nothing, and the
turn's changes say so. What a player types is checked when it is typed (`orders.check`, `reports.check`).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from league.engines.war.aftermath import close, judge
from league.engines.war.feeding import feed
from league.engines.war.fights import apply_outcomes
from league.engines.war.marches import carry_out, pitch_battles
from league.engines.war.model import (
    BattleOutcome,
    Campaign,
    Closed,
    Fact,
    MapEdited,
    OrderSet,
    OutsideBattle,
    Postponed,
    Revealed,
    Roll,
    Ruling,
    in_force,
)
from league.engines.war.rulings import bring_scars, change_map, rule
from league.engines.war.state import TurnState
from league.engines.war.working import HUNDRED, Working, entered

__all__ = ["advance", "opening", "replay"]


def replay(campaign: Campaign, facts: Iterable[Fact]) -> tuple[TurnState, ...]:
    """Every turn from the opening (turn 0) to the one that is being played; its phase says how far it has come.

    The last state is the turn being played, or the last turn of a war that is over.
    """
    by_turn: defaultdict[int, list[Fact]] = defaultdict(list)
    for fact in in_force(facts):
        by_turn[fact.turn].append(fact)
    states = [opening(campaign)]
    while states[-1].phase == "closed" and not states[-1].ended:
        states.append(advance(campaign, states[-1], by_turn[states[-1].turn + 1]))
    return tuple(states)


def opening(campaign: Campaign) -> TurnState:
    """Turn 0: the war as it begins."""
    w = Working(
        campaign=campaign,
        turn=0,
        map=campaign.map,
        control={each.region: each.faction for each in campaign.holdings},
        forces={each.key: entered(each, campaign) for each in campaign.forces},
        depots={each.region: each.faction for each in campaign.depots},
        balances={},
        points={each.key: 0 for each in campaign.factions},
    )
    for stock in campaign.stocks:
        w.book("opening", stock.region, stock.faction, stock.amount * HUNDRED)
    return w.frozen("closed")


def advance(campaign: Campaign, before: TurnState, facts: Sequence[Fact]) -> TurnState:
    """The turn after a closed one, as far as its own facts in force carry it."""
    w = Working.next_after(campaign, before)
    for fact in facts:
        if isinstance(fact, MapEdited):
            change_map(w, fact)
        elif isinstance(fact, OutsideBattle):
            bring_scars(w, fact)
        elif isinstance(fact, Ruling) and fact.phase == "orders":
            rule(w, fact)
    planned = w.frozen("orders")
    if not any(isinstance(fact, Revealed) for fact in facts):
        return planned
    _reveal(w, planned, facts)
    feed(w)
    apply_outcomes(
        w,
        [each for each in facts if isinstance(each, BattleOutcome)],
        [each for each in facts if isinstance(each, Postponed)],
    )
    if not any(isinstance(fact, Closed) for fact in facts):
        return w.frozen("battles")
    close(w)
    for fact in facts:
        if isinstance(fact, Ruling) and fact.phase == "aftermath":
            rule(w, fact)
    judge(w)
    return w.frozen("closed")


def _reveal(w: Working, planned: TurnState, facts: Sequence[Fact]) -> None:
    """The last set of each faction counts, in the order of the campaign's factions."""
    given = {each.faction: each for each in facts if isinstance(each, OrderSet)}
    sets = {each.key: given[each.key] for each in w.campaign.factions if each.key in given}
    stood = {each.key: each.region for each in w.standing()}
    carry_out(w, sets, planned)
    rolls = {each.label: each for each in facts if isinstance(each, Roll)}
    pitch_battles(w, rolls, stood)
