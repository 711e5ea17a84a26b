"""What recruits cost, and where they may join."""

from __future__ import annotations

from collections.abc import Mapping

from league.engines.rulesets import UnitId
from league.engines.strength import RosterUnit
from league.engines.war.model import Campaign, Rebuild
from league.engines.war.rules import Rules
from league.engines.war.state import ForceState, TurnState
from league.engines.war.working import Working, chart_of

__all__ = ["cost_x100", "may_rebuild_in"]


def cost_x100(rules: Rules, order: Rebuild, units: Mapping[UnitId, RosterUnit]) -> int:
    """All recruits of an order together, in hundredths of a load; units that are not there cost nothing."""
    return sum(
        max(0, each.figures) * (rules.price_x100(unit.unit_class, unit.quality) or 0)
        for each in order.replacements
        if (unit := units.get(each.unit_id)) is not None
    )


def may_rebuild_in(campaign: Campaign, state: TurnState | Working, force: ForceState) -> bool:
    """Whether recruits may join a force where it stands."""
    at = campaign.rules.rebuild_at
    if at == "anywhere":
        return True
    holder = state.control.get(force.region)
    if holder is None or campaign.hostile(holder, force.faction):
        return False
    if at == "held":
        return True
    place = chart_of(state.map).regions.get(force.region)
    return bool(place and place.produces) or force.region in state.depots
