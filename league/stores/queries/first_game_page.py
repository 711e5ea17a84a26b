"""What a newcomer needs for a first game, sorted by what is easiest to have: a page over the kit engine's own answers."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from django.db.models import Q
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Member
from league.clubs.queries import members_of
from league.engines.kit.first_game import ANSWERS, Answer, FirstNeed, first_game
from league.engines.kit.needs import Game, Side, needs_of
from league.rosters.models import Roster
from league.rulesets.queries import current_edition, rules_of
from league.stores.models import Holding, ItemKind
from league.stores.queries.balances import Window, with_spare
from league.stores.queries.cautions import Caution, cautions_of
from league.stores.queries.supplies import as_supply, supply_key
from league.stores.queries.tonight import units_of_rosters

__all__ = ["FirstGame", "StepLine", "first_game_page"]

HEADINGS: dict[Answer, str | Promise] = {
    "have": _("You have it"),
    "venue": _("It lies at the hall"),
    "lend": _("A club mate can lend it"),
    "home": _("This at home will do"),
    "print": _("Print it"),
    "make": _("Make it"),
    "buy": _("Buy it, last of all"),
}
TABLE = "first game"


@dataclass(frozen=True, kw_only=True, slots=True)
class StepLine:
    """So many of what is needed, out of a holding where there is one. `who` lends; `what` is the thing or how to make do."""

    need: str
    count: int
    who: str
    what: str
    note: str
    holding: Holding | None
    why: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class FirstGame:
    """Groups of steps under their headings, in the order of the page."""

    groups: tuple[tuple[str | Promise, tuple[StepLine, ...]], ...]
    cautions: tuple[Caution, ...]
    asks_nothing: bool


def first_game_page(roster: Roster, member: Member, *, today: date) -> FirstGame:
    """One side of a game by the roster as it stands today. Six queries, and those of the roster's strength."""
    rules = rules_of(current_edition(roster.ruleset))
    units = units_of_rosters([roster]).get(roster.pk, ())
    side = Side(key="1", name=roster.name, units=units)
    asked = needs_of(Game(table=TABLE, ruleset=rules, sides=(side,)))
    rows = list(spares_for(member, today))
    holdings = {supply_key(row.pk, None): row for row in rows}
    supplies = [as_supply(row, key, row.spare, carrier_at_home(row)) for key, row in holdings.items()]  # type: ignore[attr-defined]
    lenders = {str(each.pk): each.name for each in members_of(member.club)}
    needs = first_game(asked, supplies, newcomer=str(member.pk), lenders=lenders)
    found = {(each.carrier, each.name): holdings[each.key] for each in reversed(supplies)}
    lines = lines_by_answer(needs, lenders, found)
    return FirstGame(
        groups=tuple((HEADINGS[answer], tuple(lines[answer])) for answer in ANSWERS if lines[answer]),
        cautions=tuple(cautions_of(kinds_in(lines))),
        asks_nothing=not asked,
    )


def spares_for(member: Member, today: date) -> list[Holding]:
    """What is spare in the club, one's own down to what is kept back."""
    seen = Holding.objects.standing().filter(club=member.club_id).filter(Q(is_private=False) | Q(owner=member))
    rows = with_spare(seen, Window.of_day(None, today=today)).filter(spare__gt=0)
    return list(rows.select_related("kind", "owner", "keeper", "venue").order_by("pk"))


def carrier_at_home(holding: Holding) -> int | None:
    return None if holding.venue_id else holding.keeper_id or holding.owner_id


def lines_by_answer(
    needs: tuple[FirstNeed, ...], lenders: dict[str, str], found: dict[tuple[str | None, str], Holding]
) -> dict[Answer, list[StepLine]]:
    lines: defaultdict[Answer, list[StepLine]] = defaultdict(list)
    for need in needs:
        for step in need.steps:
            lines[step.answer].append(
                StepLine(
                    need=need.demand.name,
                    count=step.count,
                    who=lenders.get(step.who or "", ""),
                    what=step.what,
                    note=step.note,
                    holding=found.get((step.who, step.what)),
                    why=need.demand.why,
                )
            )
    return lines


def kinds_in(lines: dict[Answer, list[StepLine]]) -> list[ItemKind]:
    return [line.holding.kind for group in lines.values() for line in group if line.holding]
