"""The map of a campaign as it begins, drawn for those who draw it up."""

from __future__ import annotations

from collections.abc import Mapping

from league.campaigns.models import Campaign
from league.campaigns.queries.drawing import Drawing, ForceMark, drawing_of
from league.campaigns.queries.drawing_up import drawn_of

__all__ = ["beginning_drawn"]


def beginning_drawn(campaign: Campaign, links: Mapping[str, str] | None = None) -> Drawing:
    """Everything there is: only for those who may draw the campaign up."""
    began = drawn_of(campaign)
    return drawing_of(
        began.map,
        control={each.region: each.faction for each in began.holdings},
        factions=began.factions,
        forces=[
            ForceMark(
                key=each.key,
                name=each.name,
                faction=each.faction,
                region=each.region,
                figures=sum(unit.figures for unit in each.units),
                dug_in=each.dug_in,
            )
            for each in began.forces
        ],
        depots={each.region: each.faction for each in began.depots},
        links=links,
    )
