"""A war while it is drawn up: what it is so far, and what is missing before it can start."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from django.db.models import QuerySet
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from league.campaigns.models import Campaign, Enlisted
from league.campaigns.queries.seats import seats_of
from league.campaigns.queries.war import beginning_of
from league.clubs.models import Member
from league.engines import maps, war
from league.engines.maps import Map
from league.errors import Violation
from league.rosters.models import Roster

__all__ = ["Step", "drawn_of", "map_faults", "map_unready", "missing", "rosters_for", "steps_of", "usual_rules"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """A part of the drawing up: `key` names it for programs; `so_far` is what there is; `wanting` what is missing
    before the war can start, empty where it is ready."""

    key: str
    title: str
    so_far: str
    wanting: tuple[str, ...] = ()


def drawn_of(campaign: Campaign) -> war.Campaign:
    """How the war is to begin, as far as it is drawn up."""
    return beginning_of(campaign)


def usual_rules() -> war.Rules:
    """What a new campaign begins with: the usual rules of the war, and such that depots and battles cost something
    (common practice, no source)."""
    return replace(war.USUAL, depot_price=5, battle_use_percent=50)


def map_faults(
    of: Map, *, factions: Sequence[war.Faction] = (), holders: Mapping[str, str] | None = None
) -> list[Violation]:
    """What is wrong with a map so that it cannot be kept, in the reader's language."""
    return [_violation(each) for each in _faults(of, factions, holders) if each.severity == "broken"]


def map_unready(
    of: Map,
    *,
    factions: Sequence[war.Faction] = (),
    holders: Mapping[str, str] | None = None,
    strongholds: bool = False,
) -> list[maps.MapFault]:
    """What keeps a war from starting on a map that can be kept: islands, a faction without a source."""
    found = _faults(of, factions, holders, strongholds=strongholds)
    return [each for each in found if each.severity == "not_ready"]


def _faults(
    of: Map, factions: Sequence[war.Faction], holders: Mapping[str, str] | None, *, strongholds: bool = False
) -> tuple[maps.MapFault, ...]:
    parties = [maps.Faction(key=each.key, name=each.name, side=each.side) for each in factions]
    return maps.faults_of(of, factions=parties, holders=holders, strongholds=strongholds)


def _violation(fault: maps.MapFault) -> Violation:
    place = [fault.part if fault.part != "map" else "map", "" if fault.index is None else str(fault.index), fault.field]
    return Violation(words_of(fault), ".".join(each for each in place if each), fault.code)


def words_of(fault: maps.MapFault) -> str:
    return _(fault.message) % fault.args


def steps_of(campaign: Campaign) -> tuple[Step, ...]:
    """The checklist of a campaign that is drawn up: two queries, whatever its size."""
    began = drawn_of(campaign)
    leaders = seats_of(campaign)
    holders = {each.region: each.faction for each in began.holdings}
    unready = map_unready(
        began.map, factions=began.factions, holders=holders, strongholds=began.rules.victory.strongholds
    )
    return (
        _map_step(began, [words_of(each) for each in unready if each.part in {"regions", "roads", "map"}]),
        _factions_step(began),
        _start_step(began, [words_of(each) for each in unready if each.part == "factions"]),
        _forces_step(began),
        _seats_step(campaign, began, leaders),
        Step(key="rules", title=_("Rules"), so_far=_rules_so_far(began.rules)),
    )


def missing(campaign: Campaign) -> list[Violation]:
    """Everything that keeps the war from starting; empty when it can."""
    return [Violation(words, step.key, "missing") for step in steps_of(campaign) for words in step.wanting]


def rosters_for(campaign: Campaign) -> QuerySet[Roster]:
    """The club's rosters that may enlist: written for the campaign's ruleset, not retired, not enlisted yet."""
    rows = Roster.objects.filter(club=campaign.club_id, ruleset=campaign.edition.ruleset_id, retired_at=None)
    there = Enlisted.objects.filter(campaign=campaign).values("roster")
    return rows.exclude(pk__in=there).select_related("owner").order_by("name", "pk")


def _map_step(began: war.Campaign, wanting: list[str]) -> Step:
    regions = ngettext("%(count)s region", "%(count)s regions", len(began.map.regions))
    roads = ngettext("%(count)s road", "%(count)s roads", len(began.map.roads))
    so_far = f"{regions % {'count': len(began.map.regions)}}, {roads % {'count': len(began.map.roads)}}"
    return Step(key="map", title=_("The map"), so_far=so_far, wanting=tuple(wanting))


def _factions_step(began: war.Campaign) -> Step:
    sides = {began.side_of(each.key) for each in began.factions}
    wanting = () if len(sides) > 1 else (_("A war needs two sides at least."),)
    return Step(
        key="factions",
        title=_("Factions"),
        so_far=", ".join(each.name for each in began.factions) or _("none yet"),
        wanting=wanting,
    )


def _start_step(began: war.Campaign, wanting: list[str]) -> Step:
    held = ngettext("%(count)s region is held", "%(count)s regions are held", len(began.holdings))
    depots = ngettext("%(count)s depot", "%(count)s depots", len(began.depots))
    so_far = f"{held % {'count': len(began.holdings)}}, {depots % {'count': len(began.depots)}}"
    return Step(key="start", title=_("Who holds what"), so_far=so_far, wanting=tuple(wanting))


def _forces_step(began: war.Campaign) -> Step:
    fielded = {each.faction for each in began.forces}
    wanting = [
        _("%(faction)s has no force.") % {"faction": each.name} for each in began.factions if each.key not in fielded
    ]
    wanting += [_("%(force)s has no unit.") % {"force": each.name} for each in began.forces if not each.units]
    told = ngettext("%(count)s force", "%(count)s forces", len(began.forces)) % {"count": len(began.forces)}
    return Step(key="forces", title=_("Forces"), so_far=told, wanting=tuple(wanting))


def _seats_step(campaign: Campaign, began: war.Campaign, leaders: Mapping[str, Sequence[Member]]) -> Step:
    wanting = [
        _("Nobody leads %(faction)s.") % {"faction": each.name}
        for each in began.factions
        if not any(who.left_at is None for who in leaders.get(each.key, ()))
    ]
    seated = {who.pk for each in leaders.values() for who in each}
    umpires = Member.objects.present().filter(club=campaign.club_id, is_umpire=True).exclude(pk__in=seated)
    if not umpires.exists():
        wanting.append(_("The club has no umpire who leads no faction, so nobody could close a turn."))
    told = [
        _("%(faction)s: %(names)s")
        % {"faction": each.name, "names": ", ".join(who.name for who in leaders.get(each.key, ())) or _("nobody")}
        for each in began.factions
    ]
    return Step(key="seats", title=_("Who leads"), so_far="; ".join(told) or _("nobody yet"), wanting=tuple(wanting))


def _rules_so_far(rules: war.Rules) -> str:
    ends = []
    victory = rules.victory
    if victory.last_turn is not None:
        ends.append(_("after turn %(turn)s") % {"turn": victory.last_turn})
    if victory.points is not None:
        ends.append(_("at %(points)s points") % {"points": victory.points})
    if victory.strongholds:
        ends.append(_("when one side holds every stronghold"))
    ends.append(_("when one side alone has any force left"))
    return _("The war ends %(ends)s.") % {"ends": ", ".join(ends)}
