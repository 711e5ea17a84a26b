"""The words for each thing that happens in a war: messages with places for the values, to be translated."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from league.engines.rulesets import gettext_noop
from league.engines.war.state import Change

__all__ = ["words_of"]

PLAIN: Mapping[str, str] = {
    "placed": gettext_noop("By the umpire's word %(force)s stands at %(to)s."),
    "stopped": gettext_noop("%(force)s meets the enemy and halts at %(to)s."),
    "dug_in": gettext_noop("%(force)s digs in at %(region)s."),
    "raised": gettext_noop("%(force)s joins the war at %(region)s."),
    "order_failed": gettext_noop("An order of %(faction)s could no longer be carried out: %(message)s"),
    "supplied": gettext_noop("%(force)s is supplied again."),
    "short": gettext_noop("%(force)s is short of supply: %(loads)s of %(need)s loads reach it."),
    "cut_off": gettext_noop("%(force)s is cut off from supply."),
    "sent": gettext_noop("%(faction)s sends %(amount)s loads from %(origin)s to %(to)s; %(arrived)s arrive."),
    "depot_built": gettext_noop("%(faction)s builds a depot at %(region)s."),
    "stock_spoilt": gettext_noop("%(amount)s loads of %(faction)s spoil at %(region)s."),
    "battle_goes_on": gettext_noop("The battle at %(region)s goes on: %(factions)s."),
    "battle_begins": gettext_noop("Battle is joined at %(region)s: %(factions)s."),
    "battle_on_road": gettext_noop("%(factions)s meet on the road near %(region)s."),
    "battle_won": gettext_noop("%(faction)s win the battle at %(region)s against %(losers)s."),
    "battle_drawn": gettext_noop("The battle at %(region)s is drawn: %(factions)s."),
    "battle_conceded": gettext_noop("%(losers)s leave %(region)s to %(faction)s without a fight."),
    "not_fought": gettext_noop("The battle at %(region)s is not fought yet."),
    "postponed": gettext_noop("The battle at %(region)s is put off: %(reason)s"),
    "supply_fought": gettext_noop("%(force)s uses up %(used)s loads in battle."),
    "fought_outside": gettext_noop("%(force)s bears the marks of a battle outside the war."),
    "surrendered": gettext_noop("%(force)s finds no way back and surrenders."),
    "force_destroyed": gettext_noop("%(force)s is destroyed."),
    "advanced": gettext_noop("%(force)s marches on into %(to)s."),
    "stock_captured": gettext_noop("%(faction)s capture %(amount)s loads at %(region)s; %(spoilt)s spoil."),
    "ruling": gettext_noop("The umpire rules: %(reason)s"),
    "settlement": gettext_noop("The umpire settles: %(reason)s"),
    "map_edited": gettext_noop("The map is changed. %(reason)s"),
    "removed": gettext_noop("%(force)s leaves the war."),
    "depot_added": gettext_noop("By the umpire's word %(faction)s has a depot at %(region)s."),
    "depot_dropped": gettext_noop("By the umpire's word the depot at %(region)s is gone."),
    "stock_settled": gettext_noop("By the umpire's word the stock of %(faction)s at %(region)s changes by %(amount)s."),
    "effect_failed": gettext_noop("Part of a ruling could no longer be carried out: %(effect)s %(key)s."),
    "unknown_battle": gettext_noop("A report tells of a battle the map does not know: %(battle)s."),
    "battle_told_twice": gettext_noop("The battle %(battle)s was told twice; the first telling stands."),
    "force_not_there": gettext_noop("A report names a force that was not in the battle: %(force)s."),
}

NOT_BUILT: Mapping[str, str] = {
    "lost": gettext_noop("The depot at %(region)s is not built: the ground is no longer held."),
    "too_dear": gettext_noop("The depot at %(region)s is not built: there is not enough supply in reach."),
}
NOT_REBUILT: Mapping[str, str] = {
    "fought": gettext_noop("%(force)s takes in no recruits: it was in battle."),
    "short": gettext_noop("%(force)s takes in no recruits: it is short of supply."),
    "cut_off": gettext_noop("%(force)s takes in no recruits: it is cut off."),
    "not_here": gettext_noop("%(force)s takes in no recruits: none can reach it there."),
}
OVER: Mapping[str, str] = {
    "last_turn": gettext_noop("The last turn is over. The war goes to %(winners)s."),
    "points": gettext_noop("The points are reached. The war goes to %(winners)s."),
    "strongholds": gettext_noop("Every stronghold is in one hand. The war goes to %(winners)s."),
    "last_side": gettext_noop("One side is left on the map. The war goes to %(winners)s."),
}
NOBODY = gettext_noop("The war is over, and nobody has won it.")


def words_of(change: Change) -> tuple[str, str, int | None]:
    """The message, its plural where a number decides, and that number.

    KeyError: nothing of that kind happens in a war.
    """
    if change.what in COUNTED:
        message, plural, number = COUNTED[change.what]
        return message, plural, int(change.args[number])
    if change.what in CHOSEN:
        return CHOSEN[change.what](change), "", None
    return PLAIN[change.what], "", None


# The message for one, for any other number, and the argument that is the number.
COUNTED: Mapping[str, tuple[str, str, str]] = {
    "casualties": (
        gettext_noop("One figure of %(force)s falls; %(gone)s is gone for good."),
        gettext_noop("%(fell)s figures of %(force)s fall; %(gone)s are gone for good."),
        "fell",
    ),
    "hunger": (
        gettext_noop("Hunger costs %(force)s one figure."),
        gettext_noop("Hunger costs %(force)s %(figures)s figures."),
        "figures",
    ),
    "rebuilt": (
        gettext_noop("One recruit joins %(force)s; %(wanted)s were wanted."),
        gettext_noop("%(figures)s recruits join %(force)s; %(wanted)s were wanted."),
        "figures",
    ),
    "points": (
        gettext_noop("%(faction)s gain one point and have %(total)s."),
        gettext_noop("%(faction)s gain %(points)s points and have %(total)s."),
        "points",
    ),
    "points_awarded": (
        gettext_noop("The umpire gives %(faction)s one point."),
        gettext_noop("The umpire gives %(faction)s %(points)s points."),
        "points",
    ),
}


def _moved(change: Change) -> str:
    if not change.args["origin"]:
        return gettext_noop("%(force)s comes to %(to)s.")
    return gettext_noop("%(force)s marches from %(origin)s to %(to)s.")


def _retreated(change: Change) -> str:
    if change.args["origin"] == change.args["to"]:
        return gettext_noop("%(force)s falls back to %(to)s.")
    if not change.args["origin"]:
        return gettext_noop("%(force)s comes back, beaten, to %(to)s.")
    return gettext_noop("%(force)s falls back from %(origin)s to %(to)s.")


def _taken(change: Change) -> str:
    if change.args["loser"]:
        return gettext_noop("%(faction)s take %(region)s from %(loser)s.")
    return gettext_noop("%(faction)s take %(region)s.")


def _control_ruled(change: Change) -> str:
    if change.faction:
        return gettext_noop("By the umpire's word %(region)s goes to %(faction)s.")
    return gettext_noop("By the umpire's word nobody holds %(region)s.")


def _simulated(change: Change) -> str:
    if change.faction:
        return gettext_noop("The battle at %(region)s is reckoned, not played: %(faction)s win it against %(losers)s.")
    return gettext_noop("The battle at %(region)s is reckoned, not played, and is drawn.")


def _over(change: Change) -> str:
    return OVER[str(change.args["reason"])] if change.args["winners"] else NOBODY


CHOSEN: Mapping[str, Callable[[Change], str]] = {
    "moved": _moved,
    "retreated": _retreated,
    "region_taken": _taken,
    "control_ruled": _control_ruled,
    "battle_simulated": _simulated,
    "depot_not_built": lambda change: NOT_BUILT[str(change.args["why"])],
    "not_rebuilt": lambda change: NOT_REBUILT[str(change.args["why"])],
    "war_over": _over,
}
