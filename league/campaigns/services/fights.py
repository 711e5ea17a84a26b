"""The games in which the war's battles are fought."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from uuid import uuid4

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles.models import Game
from league.battles.services.games import call_off, plan_game
from league.campaigns.models import Campaign, Fight
from league.campaigns.queries.fights import Booking, booking_of, rosters_by_force
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused, judged
from league.clubs.models import Member, Night, Table
from league.clubs.queries.nights import next_night
from league.engines import war
from league.errors import Refused

__all__ = ["book_battle", "book_battles", "call_off_fight", "open_battle"]

BY_ARRANGEMENT = timedelta(days=7)


def book_battles(campaign: Campaign, now: War, *, by: Member, at: datetime) -> list[Game]:
    """Plan a game for every new battle whose players are clear, on the club's next night or within a week.

    Where none can be planned (a player has left, a roster is retired) none is; the umpire's desk says why.
    """
    rosters = rosters_by_force(campaign)
    standing = Fight.objects.filter(campaign=campaign, called_off_at=None)
    booked = set(standing.values_list("battle", flat=True))
    today = timezone.localdate(at)
    night = next_night(campaign.club, today)
    games = []
    for battle in now.now.battles:
        if battle.id in booked or battle.outcome is not None:
            continue
        booking = booking_of(now, battle, rosters)
        if booking.obstacle:
            continue
        try:
            with transaction.atomic():
                when = night.on if night else today + BY_ARRANGEMENT
                games.append(_book(campaign, now.turn, booking, on=when, night=night, by=by, at=at))
        except Refused:
            continue
    return games


@transaction.atomic
def book_battle(
    campaign: Campaign,
    *,
    battle: str,
    on: date,
    night: Night | None = None,
    table: Table | None = None,
    scenario: str | None = None,
    by: Member,
) -> Game:
    """Plan the game of a battle that has none, or whose game was cancelled.

    Raises:
        NotYoursToDo, CampaignMovedOn, CampaignRefused
        PlanRefused: with everything that is wrong with the game.
    """
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    open_battle(now, battle)
    standing = Fight.objects.filter(campaign=campaign, battle=battle, called_off_at=None).select_related("game").first()
    if standing and standing.game.cancelled_at is None:
        raise CampaignMovedOn(_("There is a game for this battle already."))
    at = timezone.now()
    if standing:
        Fight.objects.filter(pk=standing.pk).update(called_off_at=at)
    found = next(each for each in now.now.battles if each.id == battle)
    booking = booking_of(now, found, rosters_by_force(campaign), scenario=scenario)
    if booking.obstacle:
        raise CampaignRefused(booking.obstacle)
    return _book(campaign, now.turn, booking, on=on, night=night, table=table, by=by, at=at)


def _book(
    campaign: Campaign,
    turn: int,
    booking: Booking,
    *,
    on: date,
    night: Night | None = None,
    table: Table | None = None,
    by: Member,
    at: datetime,
) -> Game:
    game = plan_game(
        campaign.club,
        edition=campaign.edition,
        scenario=booking.scenario,
        on=on,
        sides=booking.sides,
        night=night,
        table=table,
        note=_("%(campaign)s, turn %(turn)s") % {"campaign": campaign.name, "turn": turn},
        submission=uuid4(),
        by=by,
    )
    Fight.objects.create(campaign=campaign, turn=turn, battle=booking.battle.id, game=game)
    log_act(campaign.club, "battle_booked", campaign, by=by, at=at, turn=turn)
    return game


def open_battle(now: War, key: str) -> war.Battle:
    """The battle of that id, if it is being fought now.

    Raises:
        CampaignRefused: the map knows no such battle.
        CampaignMovedOn: it is told already, or the turn is at another point.
    """
    battle = now.now.battle(key)
    if battle is None:
        raise CampaignRefused(_("The map knows no such battle in turn %(turn)s.") % {"turn": now.turn})
    if now.now.phase != "battles":
        raise CampaignMovedOn(_("No battles are being fought now."))
    if battle.outcome is not None:
        raise CampaignMovedOn(_("How this battle ended is told already."))
    return battle


def call_off_fight(campaign: Campaign, *, battle: str, by: Member, at: datetime) -> None:
    """Cancel the game of a battle that is resolved without it; nothing where there is none.

    Raises:
        GameUnderWay: there is a report of the game.
    """
    for fight in Fight.objects.filter(campaign=campaign, battle=battle, called_off_at=None).select_related("game"):
        if fight.game.cancelled_at is None:
            call_off(fight.game, by=by, at=at)
        Fight.objects.filter(pk=fight.pk).update(called_off_at=at)
