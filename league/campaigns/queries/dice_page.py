"""Every die the site drew in a war, drawn again for whoever looks."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from league.campaigns.queries.seen import Seen
from league.engines import war
from league.engines.war.dice import RollCheck, SeedCheck, check, check_seeds

__all__ = ["DicePage", "RollLine", "dice_of"]

VERDICTS = {
    "right": gettext_noop("right"),
    "wrong": gettext_noop("not what the seed gives"),
    "seed_kept": gettext_noop("its seed is told when the turn is over"),
    "no_seed": gettext_noop("no seed was promised for it"),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class RollLine:
    """`thrown` is whether it lay on a table: then there is nothing to draw again."""

    turn: int
    label: str
    sides: int
    results: tuple[int, ...]
    thrown: bool
    verdict: str
    is_right: bool | None


@dataclass(frozen=True, kw_only=True, slots=True)
class DicePage:
    seeds: tuple[SeedCheck, ...]
    rolls: tuple[RollLine, ...]


def dice_of(seen: Seen) -> DicePage:
    """Seeds of every turn the reader may look at, and the rolls of battles they know of."""
    newest = -1 if seen.newest is None else seen.newest
    known = {(view.turn, battle.id) for view in seen.views() for battle in view.battles}
    facts = seen.war.facts
    checked = {each.fact: each for each in check(seen.war.began, facts)}
    lines = []
    for fact in war.in_force(facts):
        label = _label_of(fact)
        if label is None or fact.turn > newest or (fact.turn, label.rsplit("/", 1)[0]) not in known:
            continue
        if not (seen.is_umpire or isinstance(fact, war.Roll) or _took_part(seen, fact)):
            continue
        lines.append(_line(fact, label, checked.get(fact.id)))
    seeds = tuple(each for each in check_seeds(facts) if each.turn <= max(newest, 1))
    return DicePage(seeds=seeds, rolls=tuple(lines))


def _label_of(fact: war.Fact) -> str | None:
    if isinstance(fact, war.Roll):
        return fact.label
    if isinstance(fact, war.BattleOutcome) and fact.source == "simulated":
        return fact.label
    return None


def _took_part(seen: Seen, fact: war.Fact) -> bool:
    view = seen.view(fact.turn)
    battle = view.battle(fact.battle) if view and isinstance(fact, war.BattleOutcome) else None
    return bool(battle and (battle.mine or battle.fell))


def _line(fact: war.Fact, label: str, checked: RollCheck | None) -> RollLine:
    thrown = isinstance(fact, war.Roll) and fact.thrown == "table"
    results = fact.results if isinstance(fact, war.Roll) else checked.given if checked else ()
    verdict = _("thrown on the table") if thrown or checked is None else _(VERDICTS[checked.verdict])
    return RollLine(
        turn=fact.turn,
        label=label,
        sides=fact.sides if isinstance(fact, war.Roll) else 0,
        results=results,
        thrown=thrown,
        verdict=verdict,
        is_right=None if checked is None or checked.verdict not in ("right", "wrong") else checked.verdict == "right",
    )
