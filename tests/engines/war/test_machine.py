"""Any order of orders, reports, corrections and rulings: the state kept is the replay, stock is conserved, fog holds."""

from __future__ import annotations

import random
from collections import defaultdict

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from league.engines.war import (
    BattleOutcome,
    BuildDepot,
    Closed,
    DigIn,
    ForceOutcome,
    GrantStock,
    Hold,
    Move,
    OrderSet,
    Postponed,
    Revealed,
    Roll,
    Ruling,
    SendSupply,
    SetControl,
    advance,
    in_force,
    opening,
    replay,
)
from league.engines.war.chronicle import sentences
from league.engines.war.fog import SPECTATOR, UMPIRE, view
from league.engines.war.simulate import CannotSimulate, simulate
from tests.engines.war.world import CAMPAIGN

FACTIONS = ("commons", "wardens")
ROADS = tuple(each.key for each in CAMPAIGN.map.roads)
REGIONS = tuple(each.key for each in CAMPAIGN.map.regions)


class War(RuleBasedStateMachine):
    """`kept` is the state folded turn by turn as the facts came; `facts` is all there is."""

    @initialize()
    def begin(self):
        self.facts, self.kept, self.closed = [], opening(CAMPAIGN), opening(CAMPAIGN)
        self.refold()

    def write(self, kind, **told):
        number = len(self.facts) + 1
        self.facts.append(kind(id=number, sequence=number, turn=self.kept.turn, **told))
        self.refold()

    def refold(self):
        """One turn more than the last closed one, from that turn's facts alone."""
        if self.kept.phase == "closed" and not self.kept.ended:
            self.closed = self.kept
        if not self.closed.ended:
            turn = self.closed.turn + 1
            self.kept = advance(CAMPAIGN, self.closed, [each for each in in_force(self.facts) if each.turn == turn])
            if self.kept.phase == "closed" and not self.kept.ended:
                self.refold()

    def phase(self, *names):
        return self.kept.phase in names and not self.kept.ended

    @precondition(lambda self: self.phase("orders"))
    @rule(faction=st.sampled_from(FACTIONS), dice=st.randoms(use_true_random=False))
    def order(self, faction, dice):
        orders = []
        for force in self.kept.standing:
            if force.faction == faction:
                choice = dice.choice([Move, Move, Hold, DigIn])
                orders.append(
                    Move(force=force.key, roads=(dice.choice(ROADS),)) if choice is Move else choice(force=force.key)
                )
        if dice.random() < 0.3:
            orders.append(BuildDepot(region=dice.choice(REGIONS)))
        if dice.random() < 0.3:
            orders.append(SendSupply(origin=dice.choice(REGIONS), to=dice.choice(REGIONS), amount=dice.randint(1, 5)))
        self.write(OrderSet, faction=faction, orders=tuple(orders))

    @precondition(lambda self: self.phase("orders"))
    @rule()
    def reveal(self):
        self.write(Revealed)

    @precondition(lambda self: self.phase("battles") and self.kept.rolls_needed)
    @rule(seed=st.integers(0, 99))
    def throw(self, seed):
        wanted = self.kept.rolls_needed[0]
        results = tuple(random.Random(seed).randint(1, wanted.sides) for _ in range(wanted.count))
        self.write(Roll, label=wanted.label, sides=wanted.sides, results=results)

    @precondition(lambda self: self.phase("battles") and any(each.outcome is None for each in self.kept.battles))
    @rule(seed=st.integers(0, 2**32), put_off=st.booleans())
    def fight(self, seed, put_off):
        battle = next(each for each in self.kept.battles if each.outcome is None)
        if put_off:
            self.write(Postponed, battle=battle.id)
            return
        try:
            drawn = simulate(CAMPAIGN, self.kept, battle.id, seed=f"{seed:064x}")
        except CannotSimulate:
            return
        self.write(BattleOutcome, battle=battle.id, winner=drawn.winner, forces=drawn.forces)

    @precondition(lambda self: self.phase("battles") and not self.kept.rolls_needed)
    @rule()
    def close(self):
        self.write(Closed)

    @precondition(lambda self: self.phase("orders", "battles"))
    @rule(region=st.sampled_from(REGIONS), faction=st.sampled_from(FACTIONS), amount=st.integers(-9, 9))
    def give(self, region, faction, amount):
        phase = "orders" if self.kept.phase == "orders" else "aftermath"
        effects = (GrantStock(region=region, faction=faction, amount=amount),)
        self.write(Ruling, reason="So be it.", effects=effects, phase=phase)

    @precondition(lambda self: self.phase("orders", "battles"))
    @rule(region=st.sampled_from(REGIONS), faction=st.sampled_from((*FACTIONS, "")))
    def hand_over(self, region, faction):
        phase = "orders" if self.kept.phase == "orders" else "aftermath"
        self.write(Ruling, reason="So be it.", effects=(SetControl(region=region, faction=faction),), phase=phase)

    @rule(winner=st.sampled_from((*FACTIONS, "")))
    def correct(self, winner):
        """The oldest outcome in force is told another way; the war is folded anew from the beginning."""
        told = next((each for each in in_force(self.facts) if isinstance(each, BattleOutcome)), None)
        if told is None:
            return
        number = len(self.facts) + 1
        forces = tuple(ForceOutcome(force=each.force) for each in told.forces)
        self.facts.append(
            BattleOutcome(
                id=number,
                sequence=number,
                turn=told.turn,
                supersedes=told.id,
                battle=told.battle,
                winner=winner,
                forces=forces,
            )
        )
        states = replay(CAMPAIGN, self.facts)
        self.kept = states[-1]
        self.closed = next(each for each in reversed(states) if each.phase == "closed")

    @invariant()
    def the_state_kept_is_the_replay_from_nothing(self):
        assert replay(CAMPAIGN, self.facts)[-1] == self.kept

    @invariant()
    def stock_is_the_sum_of_its_book_and_never_less_than_none(self):
        summed = defaultdict(int)
        for state in replay(CAMPAIGN, self.facts):
            for entry in state.entries:
                summed[entry.region, entry.faction] += entry.amount_x100
            moved = sum(each.amount_x100 for each in state.entries if each.kind in ("moved", "captured"))
            assert moved == 0
            assert {key: amount for key, amount in summed.items() if amount} == dict(state.balances)
            assert all(amount > 0 for amount in state.balances.values())

    @invariant()
    def no_figure_appears_or_vanishes(self):
        for force in self.kept.forces.values():
            for each in force.states.values():
                gone = each.lost + each.awaiting_dice + each.recovering_figures
                assert each.establishment == each.present + gone

    @invariant()
    def nobody_sees_what_they_may_not(self):
        states = replay(CAMPAIGN, self.facts)
        for viewer in (*FACTIONS, SPECTATOR):
            seen = view(CAMPAIGN, states, viewer=viewer)
            for told in seen.forces.values():
                if told.faction != viewer:
                    met = any(each.mine and told.key in self.kept.battle(each.id).forces for each in seen.battles)
                    assert told.region in seen.seen or met
                    assert told.force is None and told.condition is None
            assert {faction for _region, faction in seen.balances} <= {viewer}
            assert not any(each.known == "umpire" for each in seen.changes)
        whole = view(CAMPAIGN, states, viewer=UMPIRE)
        assert len(sentences(CAMPAIGN, whole)) == len(whole.changes)


TestWar = War.TestCase
TestWar.settings = settings(max_examples=40, stateful_step_count=25, deadline=None)
