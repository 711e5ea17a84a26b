"""What a corrected report would change since, line by line in words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from league.campaigns.queries.play_page import CONDITIONS, loads
from league.campaigns.queries.seen import Seen
from league.engines.war.differences import Difference, What

__all__ = ["DifferenceLine", "lines_of"]


@dataclass(frozen=True, kw_only=True, slots=True)
class DifferenceLine:
    """What it is about, how it was at the end of the turn, how it would be."""

    turn: int
    about: str
    before: str
    after: str


ABOUT: dict[What, str] = {
    "control": gettext_noop("Who holds %(region)s"),
    "depot": gettext_noop("The depot at %(region)s"),
    "points": gettext_noop("Points of %(owner)s"),
    "stock": gettext_noop("Loads of %(faction)s at %(region)s"),
    "force_gone": gettext_noop("%(force)s in the war"),
    "force_region": gettext_noop("Where %(force)s stands"),
    "condition": gettext_noop("Supply of %(force)s"),
    "unit_present": gettext_noop("%(unit)s of %(force)s: figures"),
    "unit_lost": gettext_noop("%(unit)s of %(force)s: lost for good"),
    "unit_experience": gettext_noop("%(unit)s of %(force)s: experience"),
    "battle": gettext_noop("The battle at %(region)s"),
    "battle_gone": gettext_noop("The battle at %(region)s"),
    "battle_new": gettext_noop("The battle at %(region)s"),
    "turns": gettext_noop("How long the war lasts"),
    "ended": gettext_noop("The end of the war"),
}


def lines_of(seen: Seen, found: Iterable[Difference]) -> list[DifferenceLine]:
    return [_line(seen, each) for each in found]


def _line(seen: Seen, each: Difference) -> DifferenceLine:
    forces = seen.war.now.forces
    battle = each.key.partition(":")[2]
    args = {
        "region": seen.regions.get(each.key) or seen.regions.get(battle) or each.key,
        "owner": seen.factions.get(each.key, each.key),
        "faction": seen.factions.get(each.faction, each.faction),
        "force": forces[each.key].name if each.key in forces else each.key,
        "unit": seen.unit_names.get(each.unit, str(each.unit)) if each.unit is not None else "",
    }
    shown = _shown(seen, each.what)
    return DifferenceLine(
        turn=each.turn, about=_(ABOUT[each.what]) % args, before=shown(each.before), after=shown(each.after)
    )


def _shown(seen: Seen, what: What) -> Callable[[Any], str]:
    def faction(value: Any) -> str:
        return seen.factions.get(value, _("nobody")) if value else _("nobody")

    def region(value: Any) -> str:
        return seen.regions.get(value, str(value))

    def condition(value: Any) -> str:
        return _(CONDITIONS[value])

    def gone(value: Any) -> str:
        if value is None:
            return _("not in it")
        return _("no longer in it") if value else _("in it")

    def battle(value: Any) -> str:
        if value is None:
            return _("not told")
        return _("won by %(faction)s") % {"faction": seen.factions.get(value, value)} if value else _("drawn")

    def ended(value: Any) -> str:
        if value is None:
            return _("not yet")
        return ", ".join(faction(each) for each in value.winners) or _("nobody has won it")

    by_kind: dict[str, Callable[[Any], str]] = {
        "control": faction,
        "depot": faction,
        "stock": loads,
        "force_gone": gone,
        "force_region": region,
        "condition": condition,
        "battle": battle,
        "battle_gone": lambda _value: "",
        "battle_new": lambda _value: "",
        "ended": ended,
    }
    return by_kind.get(what, lambda value: "" if value is None else str(value))
