"""Laws that hold for any history, and the fold against a recount figure by figure."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from league.engines.rulesets import CasualtyTable, Experience, Outcome, Ruleset, Step, UnitClass
from league.engines.strength import Casualty, Engagement, RosterUnit, states_before, states_today
from tests.engines.strength import oracle

LINE = UnitClass(key="line", name="Line", figures_least=1, figures_most=99)
HORSE = UnitClass(key="horse", name="Horse", figures_least=1, figures_most=99)
EXPERIENCE = Experience(per_game=1, per_win=3, per_draw=2, steps=(Step(at=4, name="Tried"),))


@st.composite
def outcomes(draw, die):
    cuts = sorted(draw(st.sets(st.integers(1, die - 1), max_size=3)) | {die})
    firsts = [1] + [cut + 1 for cut in cuts[:-1]]
    fates = st.sampled_from(["back", "out", "lost"])
    lines = []
    for first, last in zip(firsts, cuts, strict=True):
        fate = draw(fates)
        games = draw(st.integers(1, 3)) if fate == "out" else 0
        lines.append(Outcome(first=first, last=last, fate=fate, games=games))
    return tuple(lines)


@st.composite
def rulesets(draw):
    tables = []
    for key in draw(st.sampled_from([["line"], ["line", "horse"], []])):
        die = draw(st.sampled_from([2, 3, 6]))
        tables.append(
            CasualtyTable(
                key=key,
                name=key,
                roll_for=draw(st.sampled_from(["figure", "unit"])),
                die=die,
                classes=(key,),
                outcomes=draw(outcomes(die)),
            )
        )
    return Ruleset(name="Any", unit_classes=(LINE, HORSE), casualty_tables=tuple(tables), experience=EXPERIENCE)


units = st.lists(st.tuples(st.sampled_from(["line", "horse"]), st.integers(1, 8)), min_size=1, max_size=3).map(
    lambda rows: [RosterUnit(id=n, unit_class=key, figures=figures) for n, (key, figures) in enumerate(rows)]
)
dice = st.lists(st.integers(1, 6), max_size=8).map(tuple)
casualties = st.builds(
    Casualty,
    unit_id=st.integers(0, 2),
    figures_lost=st.integers(0, 9),
    destroyed=st.booleans(),
    routed=st.booleans(),
    rolls=st.none() | dice,
)
histories = st.lists(
    st.tuples(
        st.sampled_from(["win", "draw", "loss", None]),
        st.lists(casualties, max_size=3, unique_by=lambda each: each.unit_id).map(tuple),
        st.frozensets(st.integers(0, 2)),
    ),
    max_size=7,
).map(
    lambda rows: [
        Engagement(id=n, sequence=n, outcome=outcome, casualties=lines, fielded=fielded)
        for n, (outcome, lines, fielded) in enumerate(rows)
    ]
)


@given(units, histories, rulesets(), rulesets())
def test_the_fold_agrees_with_a_recount_figure_by_figure(units, history, ruleset, old_edition):
    """Every other battle was fought by an old edition."""
    history = [replace(each, ruleset=old_edition if each.sequence % 2 else None) for each in history]
    states = states_today(units, history, ruleset)
    for unit in units:
        state = states[unit.id]
        away = {each.games_left: each.figures for each in state.recovering}
        ours = (state.present, away, state.lost, state.awaiting_dice, state.experience, state.games)
        assert ours == oracle.one_unit(unit, history, ruleset)


@given(units, histories, rulesets())
def test_no_figure_is_made_or_mislaid(units, history, ruleset):
    for state in states_today(units, history, ruleset).values():
        parts = (state.present, state.recovering_figures, state.lost, state.awaiting_dice)
        assert sum(parts) == state.establishment
        assert min(parts) >= 0


@given(units, histories, rulesets(), st.integers(0, 7))
def test_the_state_before_a_battle_ignores_it_and_all_later_ones(units, history, ruleset, sequence):
    assert states_before(units, history, ruleset, sequence=sequence) == states_today(units, history[:sequence], ruleset)


@given(units, histories, rulesets(), st.randoms())
def test_the_order_in_which_battles_are_told_does_not_matter(units, history, ruleset, random):
    shuffled = random.sample(history, len(history))
    assert states_today(units, shuffled, ruleset) == states_today(units, history, ruleset)


@given(units, histories, rulesets())
def test_who_is_lost_stays_lost_and_experience_stays(units, history, ruleset):
    for cut in range(len(history)):
        earlier = states_today(units, history[:cut], ruleset)
        later = states_today(units, history[: cut + 1], ruleset)
        for unit in units:
            assert later[unit.id].lost >= earlier[unit.id].lost
            assert later[unit.id].experience >= earlier[unit.id].experience


@given(units, histories, rulesets())
def test_units_do_not_meddle_with_each_other(units, history, ruleset):
    together = states_today(units, history, ruleset)
    assert all(states_today([unit], history, ruleset)[unit.id] == together[unit.id] for unit in units)


@given(units, histories, rulesets())
def test_after_enough_rest_nobody_is_still_recovering(units, history, ruleset):
    rest = [Engagement(id=n, sequence=n) for n in range(100, 103)]
    for state in states_today(units, [*history, *rest], ruleset).values():
        assert (state.recovering, state.present) == ((), state.establishment - state.lost - state.awaiting_dice)


@given(units, histories, rulesets())
def test_the_reasons_add_up_to_the_state(units, history, ruleset):
    for state in states_today(units, history, ruleset).values():
        lost = sum(each.figures for each in state.reasons if each.what in {"lost", "unit_gone"})
        gained = sum(each.experience for each in state.reasons)
        assert (lost, gained) == (state.lost, state.experience)
