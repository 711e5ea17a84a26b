"""A unit's strength today follows from its battles, one after the other."""

from __future__ import annotations

import itertools

import pytest

from league.engines.rulesets import CasualtyTable, Outcome, Ruleset, UnitClass
from league.engines.strength import (
    Casualty,
    Engagement,
    Recovery,
    RosterUnit,
    check_casualties,
    states_before,
    states_today,
)

LINE = RosterUnit(id=1, unit_class="line", figures=10, points=60)


def lost(figures, *rolls, unit_id=1, **facts):
    return Casualty(unit_id=unit_id, figures_lost=figures, rolls=rolls or None, **facts)


def battles(*casualties, outcome="loss", fielded=(1,)):
    """One battle for each casualty line; None is a battle without losses."""
    return [
        Engagement(
            id=number,
            sequence=number,
            outcome=outcome,
            casualties=() if casualty is None else (casualty,),
            fielded=frozenset(fielded),
        )
        for number, casualty in enumerate(casualties, start=1)
    ]


def after(ruleset, *casualties, unit=LINE, **facts):
    return states_today([unit], battles(*casualties, **facts), ruleset)[unit.id]


def test_before_any_battle_a_unit_stands_as_it_was_written_down(skirmish):
    state = after(skirmish)
    assert (state.present, state.recovering, state.lost, state.reasons) == (10, (), 0, ())


def test_each_figure_meets_the_fate_its_die_says(skirmish):
    """Dice 1 and 2: lost. 3: out for one battle. 5: back."""
    state = after(skirmish, lost(4, 1, 2, 3, 5))
    assert (state.present, state.recovering, state.lost) == (7, (Recovery(figures=1, games_left=1),), 2)


def test_a_figure_that_misses_one_battle_is_there_for_the_one_after(skirmish):
    present = [after(skirmish, lost(1, 3), *quiet).present for quiet in ((), (None,))]
    assert present == [9, 10]


def test_recovery_counts_the_battles_of_the_roster_not_of_the_unit(skirmish):
    fought = battles(lost(1, 3), None)
    rested = [fought[0], Engagement(id=2, sequence=2, outcome="win")]
    assert states_today([LINE], rested, skirmish)[1].present == 10


def test_dice_not_thrown_yet_keep_figures_waiting(skirmish):
    state = after(skirmish, lost(4))
    assert (state.present, state.awaiting_dice) == (6, 4)


def test_dice_thrown_for_some_leave_the_others_waiting(skirmish):
    state = after(skirmish, lost(4, 1, 6))
    assert (state.present, state.lost, state.awaiting_dice) == (7, 1, 2)


def test_one_die_speaks_for_all_a_unit_lost(battle):
    unit = RosterUnit(id=1, unit_class="line", quality="trained", figures=20)
    fates = [after(battle, lost(5, roll), unit=unit) for roll in (1, 3, 6)]
    assert [(each.present, each.recovering_figures, each.lost) for each in fates] == [
        (15, 0, 5),
        (0, 20, 0),
        (20, 0, 0),
    ]


def test_a_unit_out_as_a_whole_returns_as_a_whole(battle):
    unit = RosterUnit(id=1, unit_class="line", quality="trained", figures=20)
    out = after(battle, lost(5, 3), unit=unit)
    assert (out.out, out.out_games_left, out.gone) == (True, 1, False)
    assert after(battle, lost(5, 3), None, unit=unit).present == 20


def test_a_destroyed_unit_whose_die_says_lost_is_gone(battle):
    unit = RosterUnit(id=1, unit_class="line", quality="trained", figures=20)
    state = after(battle, lost(20, 1, destroyed=True), unit=unit)
    assert (state.gone, state.out, state.out_games_left, state.lost) == (True, True, None, 20)


def test_nobody_waiting_for_dice_returns_to_a_unit_that_is_gone(battle):
    """Five wait for dice when the fifteen left are destroyed and their die says lost."""
    unit = RosterUnit(id=1, unit_class="line", quality="trained", figures=20)
    state = after(battle, lost(5), lost(15, 2, destroyed=True), unit=unit)
    assert (state.gone, state.awaiting_dice, state.lost) == (True, 0, 20)


def test_a_unit_that_lost_every_figure_one_by_one_is_gone(skirmish):
    state = after(skirmish, lost(10, *[1] * 10, destroyed=True))
    assert (state.gone, state.times_destroyed) == (True, 1)


def test_without_a_table_all_come_back():
    bare = Ruleset(name="Bare", unit_classes=(UnitClass(key="line", name="Line", figures_least=1, figures_most=20),))
    state = after(bare, lost(6))
    assert (state.present, state.figures_lost_total) == (10, 6)


def test_a_longer_absence_is_counted_down_battle_by_battle(battle):
    """A field battery: dice 1-3 out for two battles, 4-6 back."""
    guns = RosterUnit(id=1, unit_class="battery", figures=4)
    left = [after(battle, lost(1, 2), *[None] * rests, unit=guns, fielded=()).out_games_left for rests in range(3)]
    assert left == [2, 1, None]


def test_experience_comes_with_taking_the_field_and_winning(skirmish):
    """One a battle, two more for a win, one more for a draw; "Blooded" from four on."""
    gains = {outcome: after(skirmish, None, None, outcome=outcome) for outcome in ("win", "draw", "loss", None)}
    assert {outcome: (each.experience, each.step) for outcome, each in gains.items()} == {
        "win": (6, "Blooded"),
        "draw": (4, "Blooded"),
        "loss": (2, ""),
        None: (2, ""),
    }


def test_a_unit_that_stayed_at_home_gains_nothing(skirmish):
    state = after(skirmish, None, None, fielded=(2,))
    assert (state.games, state.experience) == (0, 0)


def test_a_unit_that_could_not_take_the_field_gains_nothing(battle):
    unit = RosterUnit(id=1, unit_class="line", quality="trained", figures=20)
    state = after(battle, lost(5, 3), None, unit=unit)
    assert (state.games, state.reasons[-1].what) == (1, "could_not_field")


def test_the_record_counts_battles_by_their_outcome(skirmish):
    engagements = [
        Engagement(id=number, sequence=number, outcome=outcome, fielded=frozenset({1}))
        for number, outcome in enumerate(["win", "loss", "draw", "win", None])
    ]
    state = states_today([LINE], engagements, skirmish)[1]
    assert (state.games, state.wins, state.draws, state.losses) == (5, 2, 1, 1)


def test_routs_and_destructions_are_counted(skirmish):
    state = after(skirmish, lost(0, routed=True), lost(10, *[6] * 10, destroyed=True, routed=True))
    assert (state.times_routed, state.times_destroyed, state.present) == (2, 1, 10)


def test_every_change_says_which_battle_which_table_and_which_dice(skirmish):
    state = after(skirmish, lost(3, 1, 3, 1))
    told = [(each.engagement_id, each.what, each.figures, each.table, each.rolls) for each in state.reasons]
    assert told == [
        (1, "fielded", 0, "", ()),
        (1, "lost", 2, "foot", (1, 1)),
        (1, "out", 1, "foot", (3,)),
    ]


def test_losses_beyond_those_who_stood_are_left_out_and_noted(skirmish):
    """Six stood: a correction of an earlier report can bring that about."""
    state = after(skirmish, lost(4, 1, 1, 1, 1), lost(8, *[1] * 8))
    assert (state.lost, [each.figures for each in state.reasons if each.what == "overstated"]) == (10, [2])


def test_a_correction_of_an_old_report_mends_everything_after_it(skirmish):
    told = battles(lost(4, 1, 1, 1, 1), lost(1, 1))
    mended = [battles(lost(1, 1))[0], told[1]]
    assert [states_today([LINE], each, skirmish)[1].present for each in (told, mended)] == [5, 8]


def test_a_battle_is_judged_by_the_edition_it_was_fought_by(skirmish):
    """An old edition in which every roll meant lost."""
    table = CasualtyTable(
        key="harsh", name="Harsh", roll_for="figure", die=6, outcomes=(Outcome(first=1, last=6, fate="lost"),)
    )
    old = Ruleset(name="Old", unit_classes=skirmish.unit_classes, casualty_tables=(table,))
    fought = Engagement(id=1, sequence=1, casualties=(lost(2, 6, 6),), ruleset=old)
    assert states_today([LINE], [fought], skirmish)[1].lost == 2


def test_who_recovers_from_before_waits_for_a_unit_that_is_out_as_a_whole(battle):
    """One gunner is out for two battles; in the next the whole battery (dice 1-3) is out for two."""
    table = CasualtyTable(
        key="slow", name="Slow", roll_for="figure", die=6, outcomes=(Outcome(first=1, last=6, fate="out", games=2),)
    )
    old = Ruleset(name="Old", unit_classes=battle.unit_classes, casualty_tables=(table,))
    fought = [
        Engagement(id=1, sequence=1, casualties=(lost(1, 1),), ruleset=old),
        Engagement(id=2, sequence=2, casualties=(lost(1, 1),)),
    ]
    guns = RosterUnit(id=1, unit_class="battery", figures=4)
    assert states_today([guns], fought, battle)[1].recovering == (Recovery(figures=4, games_left=2),)


def test_the_state_before_a_battle_knows_only_the_earlier_ones(skirmish):
    fought = battles(lost(1, 1), lost(2, 1, 1), lost(3, 1, 1, 1))
    present = [states_before([LINE], fought, skirmish, sequence=number)[1].present for number in (1, 2, 3, 4)]
    assert present == [10, 9, 7, 4]


def test_the_order_told_does_not_matter_the_sequence_does(skirmish):
    fought = battles(lost(1, 3), lost(2, 1, 3), None)
    orders = [states_today([LINE], order, skirmish) for order in itertools.permutations(fought)]
    assert all(each == orders[0] for each in orders)


def codes(states, casualties, fielded):
    return [each.code for each in check_casualties(states, casualties, fielded)]


@pytest.fixture
def states(battle):
    """1 stands at 20 of 20, 2 is out for one battle, 3 is gone, 4 waits for its dice, whole."""
    units = [RosterUnit(id=number, unit_class="line", quality="trained", figures=20) for number in (1, 2, 3, 4)]
    fought = Engagement(
        id=1,
        sequence=1,
        casualties=(
            lost(5, 3, unit_id=2),
            lost(20, 1, unit_id=3, destroyed=True),
            lost(20, unit_id=4, destroyed=True),
        ),
    )
    return states_today(units, [fought], battle)


def test_losses_that_can_be_are_accepted(states):
    assert codes(states, [lost(7, 1)], {1}) == []


def test_a_unit_destroyed_to_the_last_figure_is_accepted(states):
    assert codes(states, [lost(20, 1, destroyed=True)], {1}) == []


def test_everything_that_cannot_be_is_told_at_once(states):
    casualties = [lost(21), lost(-1), lost(3, unit_id=9)]
    assert codes(states, casualties, {1, 2, 3, 4}) == [
        "unit_out",
        "unit_gone",
        "unit_awaits_dice",
        "unit_twice",
        "more_lost_than_stood",
        "negative_figures",
        "not_fielded",
        "unknown_unit",
    ]


def test_a_destroyed_unit_has_no_survivors(states):
    assert codes(states, [lost(19, destroyed=True)], {1}) == ["destroyed_with_survivors"]


def test_a_line_that_says_nothing_is_told(states):
    assert codes(states, [lost(0)], {1}) == ["says_nothing"]


def test_a_rout_without_losses_is_accepted(states):
    assert codes(states, [lost(0, routed=True)], {1}) == []


def test_an_unknown_unit_on_the_field_is_told(states):
    assert codes(states, [], {77}) == ["unknown_unit"]


def test_the_words_name_the_unit(states):
    (found,) = check_casualties(states, [lost(30)], {1}, names={1: "Red Company"})
    assert found.text == "Red Company: 30 figures lost, but only 20 stood there."
