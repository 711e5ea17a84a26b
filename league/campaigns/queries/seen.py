"""A campaign through one pair of eyes: what `league.engines.war.fog` lets a reader see, ready for pages and API."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from league.campaigns.models import Campaign
from league.campaigns.queries.drawing import Drawing, ForceMark, drawing_of
from league.campaigns.queries.drawing_parts import RegionMark, RoadMark
from league.campaigns.queries.war import UMPIRE, War, viewer_of, war_of
from league.clubs.models import Member
from league.engines.war.chronicle import Sentence, sentences
from league.engines.war.fog import SeenForce, View, last_turn, view, views
from league.rosters.models import Unit

__all__ = ["Seen", "seen_by", "sentence_in_words"]


@dataclass(frozen=True, kw_only=True)
class Seen:
    """`viewer` is a faction's key, `UMPIRE` or `SPECTATOR`, `reader` the member, if it is one. Nothing that leaves this room reads `war.states` itself."""

    war: War
    viewer: str
    reader: Member | None = None

    @property
    def campaign(self) -> Campaign:
        return self.war.campaign

    @property
    def is_umpire(self) -> bool:
        return self.viewer == UMPIRE

    @property
    def leads(self) -> bool:
        return self.war.began.faction(self.viewer) is not None

    @cached_property
    def newest(self) -> int | None:
        """The last turn the reader may look at; None where they may look at nothing."""
        return last_turn(self.war.began, self.war.states, viewer=self.viewer)

    def view(self, turn: int | None = None) -> View | None:
        return view(self.war.began, self.war.states, viewer=self.viewer, turn=turn)

    def views(self) -> tuple[View, ...]:
        return views(self.war.began, self.war.states, viewer=self.viewer)

    def sentences(self, of: View) -> tuple[Sentence, ...]:
        return sentences(self.war.began, of)

    @cached_property
    def factions(self) -> dict[str, str]:
        return {each.key: each.name for each in self.war.began.factions}

    @cached_property
    def regions(self) -> dict[str, str]:
        known = {each.key: each.name for each in self.war.began.map.regions}
        for state in self.war.states:
            known |= {each.key: each.name for each in state.map.regions if each.key not in known}
        return known

    @cached_property
    def unit_names(self) -> dict[int | str, str]:
        """The names of all units enlisted, by their number: one query. To be shown of forces that are seen whole."""
        rows = Unit.objects.filter(roster__enlisted__campaign=self.campaign)
        return dict(rows.values_list("pk", "name"))

    def road_name(self, key: str, of: View) -> str:
        road = of.map.road(key)
        if road is None:
            return key
        return _("%(one)s to %(other)s") % {"one": self.regions[road.a], "other": self.regions[road.b]}

    def drawing(self, of: View, *, prefix: str = "map", force: str = "") -> Drawing:
        """The map of a turn; `force` marks on it why that force's supply is what it is."""
        roads, regions = _why(of, force) if force else ({}, {})
        return drawing_of(
            of.map,
            control=of.control,
            factions=self.war.began.factions,
            forces=[mark_of(each) for each in of.forces.values() if not each.gone],
            depots=of.depots,
            contested={each.region for each in of.battles if not each.told and not each.road},
            roads_marked=roads,
            regions_marked=regions,
            unknown={each.key for each in of.map.regions} - of.control_known,
            mine=self.viewer if self.leads else "",
            prefix=prefix,
        )


def seen_by(campaign: Campaign, member: Member | None) -> Seen:
    """The campaign as a member, or somebody who is none, may see it: the queries of `war_of` and one for the seat."""
    return Seen(war=war_of(campaign), viewer=viewer_of(member, campaign), reader=member)


def mark_of(force: SeenForce) -> ForceMark:
    return ForceMark(
        key=force.key,
        name=force.name,
        faction=force.faction,
        region=force.region,
        known="units" if force.known in ("own", "units") else "size" if force.known == "size" else "presence",
        figures=force.figures,
        dug_in=bool(force.force and force.force.dug_in),
        condition=force.condition if force.condition in ("short", "cut_off") else "",
    )


def _why(of: View, force: str) -> tuple[dict[str, RoadMark], dict[str, RegionMark]]:
    roads: dict[str, RoadMark] = {}
    regions: dict[str, RegionMark] = {}
    for told in of.supply.values():
        for delivery in told.deliveries:
            if delivery.force == force:
                roads |= {step.road: "used" for step in delivery.steps}
        for each in told.forces:
            if each.force == force and each.why:
                roads |= dict.fromkeys(each.why.full_roads, "full")
                regions |= {barrier.region: "blocked" for barrier in each.why.barriers}
    return roads, regions


def sentence_in_words(told: Sentence) -> str:
    """A sentence of the chronicle in the reader's language."""
    if told.plural and told.count is not None:
        return ngettext(told.message, told.plural, told.count) % told.args
    return _(told.message) % told.args
