"""What the page of a campaign shows: where the war stands, for whoever looks at it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from league.campaigns.models import Campaign, Deadline, Fact, Fight
from league.campaigns.queries.deadlines import deadline_of
from league.campaigns.queries.seats import seats_of
from league.campaigns.queries.seen import Seen
from league.clubs.models import Club
from league.clubs.queries.people import names_for
from league.engines.supply import Cut, ForceSupply
from league.engines.war.fog import SeenBattle, SeenForce, View

__all__ = [
    "BattleLine",
    "FactionLine",
    "ForceLine",
    "Front",
    "StockLine",
    "battles_seen",
    "campaigns_of",
    "factions_seen",
    "forces_seen",
    "front_of",
    "reasons_of",
    "stocks_seen",
]

HUNDRED = 100
CONDITIONS = {
    "supplied": gettext_noop("supplied"),
    "short": gettext_noop("short of supply"),
    "cut_off": gettext_noop("cut off"),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class FactionLine:
    """`has_ordered` is whether orders for the turn are given: that much everybody may know, never what."""

    key: str
    name: str
    leaders: tuple[str, ...]
    points: int | None
    regions: int
    has_ordered: bool
    is_mine: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class ForceLine:
    force: SeenForce
    faction: str
    where: str
    strength: str
    condition: str
    reasons: tuple[str, ...]
    roster_id: int | None


@dataclass(frozen=True, kw_only=True, slots=True)
class BattleLine:
    """`game_id` is where it is played, None where no game is planned; `outcome` in words, empty while nobody told."""

    battle: SeenBattle
    where: str
    sides: str
    outcome: str
    game_id: int | None


@dataclass(frozen=True, kw_only=True, slots=True)
class StockLine:
    """Supply in hundredths of a load: what lies somewhere, and every entry of the turn that made it so."""

    where: str
    faction: str
    amount_x100: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Front:
    seen: Seen
    view: View
    factions: tuple[FactionLine, ...]
    mine: tuple[ForceLine, ...]
    others: tuple[ForceLine, ...]
    battles: tuple[BattleLine, ...]
    stocks: tuple[StockLine, ...]
    deadline: Deadline | None
    takes_orders: bool


def campaigns_of(club: Club, user: object) -> list[Campaign]:
    """The campaigns of a club a person may see, those under way first."""
    rows = Campaign.objects.visible_to(user).filter(club=club)  # type: ignore[arg-type]
    return list(rows.select_related("edition__ruleset").order_by("ended_at", "-started_at", "-pk"))


def front_of(seen: Seen) -> Front | None:
    """The newest turn the reader may look at. None: nothing is shown to them."""
    view = seen.view()
    if view is None:
        return None
    forces = forces_seen(seen, view)
    leads = {each.key for each in seen.war.began.factions if seen.leads and _same_side(seen, each.key)}
    is_now = view.turn == seen.war.turn
    return Front(
        seen=seen,
        view=view,
        factions=factions_seen(seen, view, is_now=is_now),
        mine=tuple(each for each in forces if each.force.faction in leads),
        others=tuple(each for each in forces if each.force.faction not in leads),
        battles=battles_seen(seen, view),
        stocks=stocks_seen(seen, view),
        deadline=deadline_of(seen.campaign, view.turn) if is_now and view.phase == "orders" else None,
        takes_orders=seen.leads and is_now and view.phase == "orders" and not view.ended,
    )


def _same_side(seen: Seen, faction: str) -> bool:
    return not seen.war.began.hostile(faction, seen.viewer)


def factions_seen(seen: Seen, view: View, *, is_now: bool) -> tuple[FactionLine, ...]:
    """Every faction with what the reader knows of it; two queries."""
    seats = seats_of(seen.campaign)
    names = names_for(seen.reader, [each for members in seats.values() for each in members])
    given = {row.faction for row in seen.war.rows if row.kind == Fact.Kind.ORDERS and row.turn == view.turn}
    return tuple(
        FactionLine(
            key=each.key,
            name=each.name,
            leaders=tuple(names[member.pk] for member in seats.get(each.key, [])),
            points=view.points.get(each.key),
            regions=sum(holder == each.key for holder in view.control.values()),
            has_ordered=is_now and view.phase == "orders" and each.key in given,
            is_mine=each.key == seen.viewer,
        )
        for each in seen.war.began.factions
    )


def forces_seen(seen: Seen, view: View) -> tuple[ForceLine, ...]:
    """Every force the reader knows of in a turn, with why its supply is what it is where that is theirs to know."""
    rosters = dict(seen.campaign.enlisted.values_list("force", "roster_id"))
    fed = {each.force: each for told in view.supply.values() for each in told.forces}
    return tuple(
        ForceLine(
            force=each,
            faction=seen.factions[each.faction],
            where=_where(seen, each, view),
            strength=strength_in_words(each),
            condition=condition_in_words(each),
            reasons=reasons_of(seen, view, fed.get(each.key)),
            roster_id=rosters.get(each.key),
        )
        for each in view.forces.values()
    )


def _where(seen: Seen, force: SeenForce, view: View) -> str:
    if force.gone:
        return {
            "surrendered": _("surrendered"),
            "destroyed": _("destroyed"),
            "removed": _("no longer in the war"),
        }[force.gone]
    if force.road:
        return _("on the road %(road)s") % {"road": seen.road_name(force.road, view)}
    return seen.regions.get(force.region, force.region)


def strength_in_words(force: SeenForce) -> str:
    """How many figures, as exactly as the reader knows it."""
    if force.figures is None:
        return _("unknown")
    if force.known == "size":
        return _("about %(figures)s") % {"figures": force.figures}
    return str(force.figures)


def condition_in_words(force: SeenForce) -> str:
    if force.gone or force.condition is None:
        return ""
    return _(CONDITIONS[force.condition])


def reasons_of(seen: Seen, view: View, fed: ForceSupply | None) -> tuple[str, ...]:
    """Why a force went short, in words: the roads that are full, the stocks that are empty, the regions that block."""
    if fed is None or fed.why is None:
        return ()
    return (
        _("%(loads)s of the %(need)s loads it needs were sent.") % {"loads": fed.loads, "need": fed.need},
        *_cut_in_words(seen, view, fed.why),
    )


def _cut_in_words(seen: Seen, view: View, cut: Cut) -> list[str]:
    told = [_("The road %(road)s is full.") % {"road": seen.road_name(key, view)} for key in cut.full_roads]
    if cut.spent:
        told.append(_("Nothing is left in %(places)s.") % {"places": _listed(seen, cut.spent)})
    if cut.shared_with:
        names = [view.forces[key].name for key in cut.shared_with if key in view.forces]
        if names:
            told.append(_("What came through went to %(forces)s as well.") % {"forces": ", ".join(names)})
    for each in cut.barriers:
        place = seen.regions.get(each.region, each.region)
        if each.contested:
            told.append(_("%(place)s is fought over, and nothing passes.") % {"place": place})
        elif each.holder:
            told.append(
                _("%(place)s is held by %(faction)s, and nothing passes.")
                % {"place": place, "faction": seen.factions[each.holder]}
            )
        else:
            told.append(_("Nothing passes %(place)s.") % {"place": place})
    return told or [_("No road leads to it from any stock.")]


def _listed(seen: Seen, keys: Sequence[str]) -> str:
    return ", ".join(seen.regions.get(key, key) for key in keys)


def battles_seen(seen: Seen, view: View) -> tuple[BattleLine, ...]:
    """The battles of a turn the reader knows of: one query for their games."""
    fights = Fight.objects.filter(
        campaign=seen.campaign, called_off_at=None, battle__in=[each.id for each in view.battles]
    )
    games = dict(fights.values_list("battle", "game_id"))
    return tuple(
        BattleLine(
            battle=each,
            where=seen.road_name(each.road, view) if each.road else seen.regions.get(each.region, each.region),
            sides=_sides(seen, view, each),
            outcome=outcome_in_words(seen, each),
            game_id=games.get(each.id),
        )
        for each in view.battles
    )


def _sides(seen: Seen, view: View, battle: SeenBattle) -> str:
    told = []
    for side in battle.sides:
        names = ", ".join(seen.factions[key] for key in side.factions)
        forces = ", ".join(view.forces[key].name for key in side.forces if key in view.forces)
        told.append(f"{names} ({forces})" if forces else names)
    return _(" against ").join(told)


def outcome_in_words(seen: Seen, battle: SeenBattle) -> str:
    if battle.postponed:
        return _("put off")
    if not battle.told:
        return ""
    if not battle.winner:
        return _("drawn")
    name = seen.factions[battle.winner]
    words = {
        "conceded": _("left to %(faction)s without a fight"),
        "simulated": _("reckoned, not played: won by %(faction)s"),
    }.get(battle.source or "", _("won by %(faction)s"))
    return words % {"faction": name}


def stocks_seen(seen: Seen, view: View) -> tuple[StockLine, ...]:
    return tuple(
        StockLine(where=seen.regions.get(region, region), faction=seen.factions[faction], amount_x100=amount)
        for (region, faction), amount in sorted(view.balances.items())
    )


def loads(amount_x100: int) -> str:
    """Hundredths of a load as a reader has them: 250 -> "2.5"."""
    whole, part = divmod(abs(amount_x100), HUNDRED)
    text = f"{whole}.{part:02}".rstrip("0").rstrip(".") if part else str(whole)
    return f"\N{MINUS SIGN}{text}" if amount_x100 < 0 else text
