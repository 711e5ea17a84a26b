"""The fold: a roster's battles and musters in order, each changing its units."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace

from league.engines.rulesets import Outcome, Ruleset, UnitId
from league.engines.strength.fates import Fates, fates_of
from league.engines.strength.model import Casualty, Change, Engagement, Muster, Recovery, RosterUnit, UnitState, What

__all__ = ["after", "fresh", "states_before", "states_today"]


def states_today(
    units: Iterable[RosterUnit], engagements: Iterable[Engagement], ruleset: Ruleset, *, musters: Iterable[Muster] = ()
) -> Mapping[UnitId, UnitState]:
    """Each unit after all the engagements and musters, by its id, in the units' order.

    In each battle, in order of `sequence`:

    1. figures that were recovering have missed one battle more; those who have missed enough return after it;
    2. the unit's losses get their fate from the first table that speaks of it: `back` for the next battle, `out` for
       the next so many, `lost` for good. Without a table all come back. Without dice they wait for them;
    3. where one die speaks for the whole unit, an `out` keeps those still standing away as well, and a `lost` for a
       destroyed unit ends it: nobody recovering or waiting for dice returns to it;
    4. a unit that took the field, and was able to, has the battle on its record and gains experience.

    At a muster, recruits fill the places of those `lost`, never more, and dilute the unit's experience; those who left
    are taken from the `present`, never more.

    Nothing raises on a report that cannot be right any more since an earlier one was corrected: losses beyond those
    who stood are left out and noted as `overstated`, and a roll the die cannot show counts as not thrown.
    """
    listed = tuple(units)
    events: list[Engagement | Muster] = [*engagements, *musters]
    ordered = sorted(events, key=lambda each: each.sequence)
    return {unit.id: _state_after(unit, ordered, ruleset) for unit in listed}


def states_before(
    units: Iterable[RosterUnit],
    engagements: Iterable[Engagement],
    ruleset: Ruleset,
    *,
    sequence: int,
    musters: Iterable[Muster] = (),
) -> Mapping[UnitId, UnitState]:
    """Each unit as it stood before the battle of `sequence`: the fold over what was earlier only."""
    return states_today(
        units,
        (each for each in engagements if each.sequence < sequence),
        ruleset,
        musters=(each for each in musters if each.sequence < sequence),
    )


def fresh(unit: RosterUnit, ruleset: Ruleset) -> UnitState:
    """A unit before any battle."""
    return UnitState(
        unit_id=unit.id, establishment=unit.figures, present=unit.figures, step=ruleset.experience.step_at(0)
    )


def after(state: UnitState, unit: RosterUnit, event: Engagement | Muster, ruleset: Ruleset) -> UnitState:
    """One step of the fold: `states_today` is `fresh` and this for every event in order."""
    if isinstance(event, Engagement):
        state = _fight(state, unit, event, event.ruleset or ruleset)
    elif event.unit_id == unit.id:
        state = _muster(state, event)
    return replace(state, step=ruleset.experience.step_at(state.experience))


def _state_after(unit: RosterUnit, events: Iterable[Engagement | Muster], ruleset: Ruleset) -> UnitState:
    state = fresh(unit, ruleset)
    for event in events:
        state = after(state, unit, event, ruleset)
    return state


def _muster(state: UnitState, muster: Muster) -> UnitState:
    gone = min(max(muster.left, 0), state.present)
    if gone:
        state = replace(state, present=state.present - gone, lost=state.lost + gone)
        state = _noted(state, muster, "left", figures=gone)
    recruits = min(max(muster.joined, 0), state.lost)
    if recruits == 0:
        return state
    veterans = state.establishment - state.lost
    forgotten = state.experience - state.experience * veterans // (veterans + recruits)
    state = replace(
        state,
        present=state.present + recruits,
        lost=state.lost - recruits,
        experience=state.experience - forgotten,
    )
    return _noted(state, muster, "joined", figures=recruits, experience=-forgotten)


def _fight(state: UnitState, unit: RosterUnit, engagement: Engagement, ruleset: Ruleset) -> UnitState:
    casualty = next((each for each in engagement.casualties if each.unit_id == unit.id), None)
    standing = state.present
    after = _recover(state, engagement)
    if casualty is None and unit.id not in engagement.fielded:
        return after
    if standing == 0:
        return _noted(after, engagement, "could_not_field", figures=casualty.figures_lost if casualty else 0)
    after = _record(after, engagement, ruleset)
    if casualty is None:
        return after
    as_fielded = engagement.listed.get(unit.id, unit)
    return _suffer(after, casualty, standing, engagement, fates_of(as_fielded, casualty, standing, ruleset))


def _noted(
    state: UnitState,
    engagement: Engagement | Muster,
    what: What,
    *,
    figures: int = 0,
    games: int = 0,
    experience: int = 0,
) -> UnitState:
    change = Change(engagement_id=engagement.id, what=what, figures=figures, games=games, experience=experience)
    return replace(state, reasons=(*state.reasons, change))


def _recover(state: UnitState, engagement: Engagement) -> UnitState:
    """One battle less to miss for all who are recovering."""
    waited = [replace(each, games_left=each.games_left - 1) for each in state.recovering]
    returned = sum(each.figures for each in waited if each.games_left == 0)
    still_away = tuple(each for each in waited if each.games_left)
    state = replace(state, present=state.present + returned, recovering=still_away)
    return _noted(state, engagement, "returned", figures=returned) if returned else state


def _record(state: UnitState, engagement: Engagement, ruleset: Ruleset) -> UnitState:
    rules = ruleset.experience
    gained = rules.per_game
    gained += rules.per_win if engagement.outcome == "win" else 0
    gained += rules.per_draw if engagement.outcome == "draw" else 0
    state = replace(
        state,
        experience=state.experience + gained,
        games=state.games + 1,
        wins=state.wins + (engagement.outcome == "win"),
        draws=state.draws + (engagement.outcome == "draw"),
        losses=state.losses + (engagement.outcome == "loss"),
    )
    return _noted(state, engagement, "fielded", experience=gained)


def _suffer(state: UnitState, casualty: Casualty, standing: int, engagement: Engagement, fates: Fates) -> UnitState:
    if casualty.figures_lost > standing:
        state = _noted(state, engagement, "overstated", figures=casualty.figures_lost - standing)
    if casualty.routed:
        state = _noted(replace(state, times_routed=state.times_routed + 1), engagement, "routed")
    if casualty.destroyed:
        state = _noted(replace(state, times_destroyed=state.times_destroyed + 1), engagement, "destroyed")
    away = Counter({each.games_left: each.figures for each in state.recovering})
    for outcome, rolls in fates.decided.items():
        away[outcome.games] += fates.figures(rolls) if outcome.fate == "out" else 0
    state = replace(
        state,
        present=state.present - fates.taken + fates.fallen("back"),
        recovering=_in_order(away),
        lost=state.lost + fates.fallen("lost"),
        awaiting_dice=state.awaiting_dice + fates.awaiting,
        figures_lost_total=state.figures_lost_total + fates.taken,
        reasons=(*state.reasons, *fates.changes(engagement.id)),
    )
    if fates.for_the_unit is None:
        return state
    return _as_one(state, casualty, engagement, fates.for_the_unit)


def _as_one(state: UnitState, casualty: Casualty, engagement: Engagement, outcome: Outcome) -> UnitState:
    """What one die for the whole unit does to those who did not fall."""
    if outcome.fate == "out":
        away = Counter({outcome.games: state.present})
        for each in state.recovering:
            away[max(each.games_left, outcome.games)] += each.figures
        kept = replace(state, present=0, recovering=_in_order(away))
        return _noted(kept, engagement, "unit_out", figures=state.present, games=outcome.games)
    if outcome.fate == "lost" and casualty.destroyed:
        ended = replace(state, present=0, recovering=(), awaiting_dice=0, lost=state.establishment)
        return _noted(ended, engagement, "unit_gone", figures=state.establishment - state.lost)
    return state


def _in_order(away: Counter[int]) -> tuple[Recovery, ...]:
    """Who is away, those who return first in front."""
    return tuple(Recovery(figures=figures, games_left=games) for games, figures in sorted(away.items()) if figures)
