"""A map region by region and road by road, as the plain forms write it."""

from __future__ import annotations

from dataclasses import replace

from django.db import transaction
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign
from league.campaigns.queries.drawing_up import drawn_of
from league.campaigns.services.campaigns import CampaignRefused, lock_campaign
from league.campaigns.services.drawing_up import free_key, write_map
from league.clubs.models import Member
from league.engines.maps import Map, Region, Road
from league.errors import Violation

__all__ = ["remove_region", "remove_road", "write_region", "write_road"]


@transaction.atomic
def write_region(campaign: Campaign, *, region: Region, version: int | None = None, by: Member) -> Campaign:
    """Put a region on the map, or another in place of the one of the same key. Without a key it is new.

    Raises: as `write_map`.
    """
    of = _map(campaign)
    if not region.key:
        region = replace(region, key=free_key(region.name, (each.key for each in of.regions), "region"))
    regions = [region if each.key == region.key else each for each in of.regions]
    if region not in regions:
        regions.append(region)
    return write_map(campaign, of=replace(of, regions=tuple(regions)), version=version, by=by)


@transaction.atomic
def remove_region(campaign: Campaign, *, region: str, version: int | None = None, by: Member) -> Campaign:
    """Take a region off the map, and the roads that lead to it. Twice is once.

    Raises: as `write_map`.
    """
    of = _map(campaign)
    left = tuple(each for each in of.regions if each.key != region)
    roads = tuple(each for each in of.roads if region not in {each.a, each.b})
    return write_map(campaign, of=replace(of, regions=left, roads=roads), version=version, by=by)


@transaction.atomic
def write_road(campaign: Campaign, *, road: Road, version: int | None = None, by: Member) -> Campaign:
    """Put a road on the map, or another in place of the one of the same key. Without a key it is new.

    Raises: as `write_map`.
    """
    of = _map(campaign)
    if {road.a, road.b} - {each.key for each in of.regions}:
        raise CampaignRefused(Violation(_("A road joins two regions of the map."), "a", "unknown_region"))
    if not road.key:
        road = replace(road, key=free_key(f"{road.a[:16]}-{road.b[:16]}", (each.key for each in of.roads), "road"))
    roads = [road if each.key == road.key else each for each in of.roads]
    if road not in roads:
        roads.append(road)
    return write_map(campaign, of=replace(of, roads=tuple(roads)), version=version, by=by)


@transaction.atomic
def remove_road(campaign: Campaign, *, road: str, version: int | None = None, by: Member) -> Campaign:
    """Take a road off the map. Twice is once.

    Raises: as `write_map`.
    """
    of = _map(campaign)
    return write_map(
        campaign, of=replace(of, roads=tuple(each for each in of.roads if each.key != road)), version=version, by=by
    )


def _map(campaign: Campaign) -> Map:
    """The map as it is at this moment, kept by this transaction: `write_map` asks who may."""
    return drawn_of(lock_campaign(campaign)).map
