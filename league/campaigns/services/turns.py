"""The turn: when orders are due, the reveal by the umpire, the close, and the war's end."""

from __future__ import annotations

from datetime import datetime

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Deadline
from league.campaigns.queries.deadlines import deadline_of
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused, judged, lock_campaign
from league.campaigns.services.facts import add_fact, open_turn, tell_seed
from league.campaigns.services.outside import bring_outside_battles
from league.campaigns.services.records import call_the_rolls, record_clashes
from league.campaigns.services.reveal import carry_out_orders
from league.clubs.models import Member
from league.engines import war
from league.errors import Violation

__all__ = ["close_turn", "end_campaign", "reveal_orders", "reveal_what_is_due", "set_deadline"]

REASON_MOST = 500


@transaction.atomic
def set_deadline(campaign: Campaign, *, turn: int, due_at: datetime, by: Member) -> Deadline:
    """Say when the orders of the turn being planned are due; the last word counts.

    Raises:
        NotYoursToDo, CampaignMovedOn, CampaignRefused
    """
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    _at_turn(now, turn, phase="orders")
    at = timezone.now()
    if due_at <= at:
        raise CampaignRefused(Violation(_("This is past already."), "due_at", "past"))
    standing = deadline_of(campaign, turn)
    if standing is not None and standing.due_at == due_at:
        return standing
    log_act(campaign.club, "orders_due", campaign, by=by, at=at, turn=turn)
    return Deadline.objects.create(campaign=campaign, turn=turn, due_at=due_at, set_by=by, set_at=at)


@transaction.atomic
def reveal_orders(campaign: Campaign, *, turn: int, by: Member) -> None:
    """Reveal the turn's orders as they are, whoever has given none; their forces hold. Revealing twice is once.

    Raises:
        NotYoursToDo, CampaignMovedOn
    """
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    if now.turn == turn and now.now.phase != "orders":
        return
    _at_turn(now, turn, phase="orders")
    carry_out_orders(campaign, by=by, at=timezone.now())


@transaction.atomic
def reveal_what_is_due(campaign: Campaign, *, now: datetime) -> bool:
    """Reveal the turn's orders if their deadline has passed, in the name of whoever set it; whether it was done.

    Called by the clock (`manage.py turns`) and whenever the campaign is opened, so that no clock has to run.
    """
    campaign = lock_campaign(campaign)
    if campaign.started_at is None or campaign.ended_at is not None:
        return False
    state = war_of(campaign)
    due = deadline_of(campaign, state.turn)
    if state.now.phase != "orders" or due is None or due.due_at > now or due.set_by is None:
        return False
    carry_out_orders(campaign, by=due.set_by, at=now)
    return True


@transaction.atomic
def close_turn(campaign: Campaign, *, turn: int, by: Member) -> None:
    """End the turn: what reports say is written down as facts, the fold does the aftermath, recruits and losses go on
    the rosters' records, the seed is told and the next turn begins. Closing twice is closing once.

    A battle of which nobody told is put off to the next turn.

    Raises:
        NotYoursToDo, CampaignMovedOn
        CampaignRefused: dice are still to be rolled.
    """
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    if now.turn > turn or (now.turn == turn and now.now.phase == "closed"):
        return
    _at_turn(now, turn, phase="battles")
    if now.now.rolls_needed:
        raise CampaignRefused(_("Dice are still to be rolled before the turn can close."))
    at = timezone.now()
    bring_outside_battles(campaign, now, by=by, at=at)
    for outcome in now.reported:
        report = now.told[outcome.battle].report
        add_fact(campaign, outcome, report=report, by=by, at=at)
    try:
        with transaction.atomic():
            add_fact(campaign, war.Closed(id=0, sequence=0, turn=turn), by=by, at=at)
    except IntegrityError as failure:
        raise CampaignMovedOn(_("Turn %(turn)s is closed already.") % {"turn": turn}) from failure
    tell_seed(campaign, turn=turn, by=by, at=at)
    after = war_of(campaign)
    record_clashes(campaign, after, turn=turn, by=by, at=at)
    call_the_rolls(campaign, after, since=turn, at=at)
    log_act(campaign.club, "turn_closed", campaign, by=by, at=at, turn=turn)
    if after.now.ended:
        _end(campaign, by=by, at=at)
    else:
        open_turn(campaign, turn=turn + 1, by=by, at=at)


@transaction.atomic
def end_campaign(campaign: Campaign, *, reason: str, by: Member) -> None:
    """End the war before its rules do. Ending twice is ending once.

    Raises:
        NotYoursToDo, CampaignRefused: no reason, or a turn is being fought.
    """
    if lock_campaign(campaign).ended_at is not None:
        return
    campaign = judged(campaign, by=by)
    reason = reason.strip()
    wrong = []
    if not reason:
        wrong.append(Violation(_("Say why the war ends."), "reason", "missing"))
    if len(reason) > REASON_MOST:
        wrong.append(Violation(_("Keep this under %(most)s characters.") % {"most": REASON_MOST}, "reason", "long"))
    now = war_of(campaign)
    if now.now.phase == "battles":
        wrong.append(Violation(_("Close the turn first."), "", "turn_open"))
    if wrong:
        raise CampaignRefused(wrong)
    at = timezone.now()
    last = war.Ruling(id=0, sequence=0, turn=now.turn, reason=reason, phase="orders")
    add_fact(campaign, last, by=by, at=at)
    tell_seed(campaign, turn=now.turn, by=by, at=at)
    _end(campaign, by=by, at=at)


def _end(campaign: Campaign, *, by: Member, at: datetime) -> None:
    if Campaign.objects.filter(pk=campaign.pk, ended_at=None).update(ended_at=at):
        log_act(campaign.club, "campaign_ended", campaign, by=by, at=at)


def _at_turn(now: War, turn: int, *, phase: str) -> None:
    if now.turn != turn or now.now.phase != phase:
        raise CampaignMovedOn(_("The campaign has gone on meanwhile. Look at it again."))
