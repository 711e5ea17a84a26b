"""Recruits and deserters between two battles."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from league.engines.rulesets import CasualtyTable, Experience, Outcome, Ruleset, Step, UnitClass
from league.engines.strength import Casualty, Engagement, Muster, RosterUnit, after, fresh, states_before, states_today

from .test_laws_of_strength import histories, rulesets, units

# Whoever falls is lost, whatever the die shows; nine experience a battle.
NO_MERCY = Ruleset(
    name="No mercy",
    unit_classes=(UnitClass(key="foot", name="Foot", figures_least=1, figures_most=99),),
    casualty_tables=(
        CasualtyTable(
            key="all", name="All", roll_for="figure", die=6, outcomes=(Outcome(first=1, last=6, fate="lost"),)
        ),
    ),
    experience=Experience(per_game=9, steps=(Step(at=9, name="Tried"),)),
)
FOOT = RosterUnit(id="pikes", unit_class="foot", figures=12)
musters = st.lists(st.tuples(st.integers(0, 2), st.integers(0, 9), st.integers(0, 9)), max_size=5).map(
    lambda rows: [
        Muster(id=f"m{n}", sequence=1000 * (n % 2) + n * 2 + 1, unit_id=unit, joined=joined, left=left)
        for n, (unit, joined, left) in enumerate(rows)
    ]
)


def fought(lost):
    return Engagement(
        id="weir", sequence=1, casualties=(Casualty(unit_id="pikes", figures_lost=lost, rolls=(1,) * lost),)
    )


def after_muster(lost, **muster):
    states = states_today(
        [FOOT], [fought(lost)], NO_MERCY, musters=[Muster(id="m", sequence=2, unit_id="pikes", **muster)]
    )
    return states["pikes"]


def test_recruits_fill_the_places_of_the_lost_and_share_out_the_experience():
    """Four veterans with 9 experience and eight recruits: 9 x 4 / 12 = 3."""
    unit = after_muster(8, joined=8)
    assert (unit.present, unit.lost, unit.experience, unit.step) == (12, 0, 3, "")


def test_no_more_recruits_join_than_places_are_free():
    assert after_muster(3, joined=50).present == 12


def test_a_unit_raised_from_nothing_knows_nothing():
    unit = after_muster(12, joined=5)
    assert (unit.present, unit.experience, unit.gone) == (5, 0, False)


def test_who_leaves_is_gone_for_good_and_takes_no_experience_along():
    unit = after_muster(2, left=3)
    assert (unit.present, unit.lost, unit.experience) == (7, 5, 9)


def test_no_more_leave_than_stand_there():
    assert after_muster(2, left=99).present == 0


def test_a_muster_says_what_it_did():
    told = [(each.what, each.figures, each.experience) for each in after_muster(8, joined=8, left=1).reasons]
    assert told[-2:] == [("left", 1, 0), ("joined", 8, -7)]


def test_the_state_before_a_battle_knows_no_later_muster():
    muster = Muster(id="m", sequence=2, unit_id="pikes", joined=8)
    before = states_before([FOOT], [fought(8)], NO_MERCY, sequence=2, musters=[muster])
    assert before["pikes"].present == 4


@given(units, histories, musters, rulesets())
def test_every_figure_is_somewhere(units, history, musters, ruleset):
    for state in states_today(units, history, ruleset, musters=musters).values():
        assert state.establishment == state.present + state.recovering_figures + state.lost + state.awaiting_dice
        assert min(state.present, state.lost, state.awaiting_dice, state.experience) >= 0


@given(units, histories, musters, rulesets())
def test_folding_step_by_step_is_folding_at_once(units, history, musters, ruleset):
    events = sorted([*history, *musters], key=lambda each: each.sequence)
    for unit in units:
        state = fresh(unit, ruleset)
        for event in events:
            state = after(state, unit, event, ruleset)
        assert state == states_today(units, history, ruleset, musters=musters)[unit.id]
