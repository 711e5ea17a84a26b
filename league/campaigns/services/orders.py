"""A faction's orders: secret until all are in, or until they are revealed."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Fact, Seat
from league.campaigns.permissions import can_lead
from league.campaigns.queries.seats import seat_of
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.campaigns import CampaignMovedOn, under_way
from league.campaigns.services.facts import add_fact
from league.campaigns.services.reveal import carry_out_orders
from league.clubs.models import Member
from league.clubs.services.submissions import digest_of, earlier
from league.engines import war
from league.engines.documents.campaign import write_orders
from league.engines.war.orders import check
from league.errors import NotYoursToDo, Refused, Violation
from league.rulesets.queries import violation_in_words

__all__ = ["OrdersRefused", "all_are_in", "faults_of_orders", "give_orders"]

ORDERS_MOST = 500


class OrdersRefused(Refused):
    """The orders cannot be carried out; carries every reason, each at its order (`orders.<n>`, `importance.<n>`)."""


@transaction.atomic
def give_orders(
    campaign: Campaign,
    *,
    faction: str,
    turn: int,
    orders: Sequence[war.Order],
    importance: Sequence[str] = (),
    submission: UUID,
    by: Member,
) -> Fact:
    """Give a faction's orders for the turn, all of them; an earlier set of the same turn counts no more.

    When this was the last set that was missing, all are revealed together.

    Raises:
        NotYoursToDo: one does not lead this faction.
        CampaignMovedOn: not under way, or its turn takes no orders now.
        OrdersRefused: with everything that is wrong.
        SubmissionReused
    """
    told = {"faction": faction, "turn": turn, "orders": write_orders(orders), "importance": list(importance)}
    digest = digest_of({"campaign": campaign.pk, "by": by.pk, **told})
    campaign = under_way(campaign)
    if again := earlier(Fact, submission, digest):
        return again
    if not can_lead(by, seat_of(by, campaign), faction):
        raise NotYoursToDo(_("Orders are given by those who lead the faction."))
    now = war_of(campaign)
    if now.now.phase != "orders" or now.turn != turn:
        raise CampaignMovedOn(_("Turn %(turn)s takes no orders any more.") % {"turn": turn})
    given = war.OrderSet(
        id=0, sequence=0, turn=turn, faction=faction, orders=tuple(orders), importance=tuple(importance)
    )
    if faults := faults_of_orders(now, given):
        raise OrdersRefused(faults)
    at = timezone.now()
    fact = add_fact(campaign, given, by=by, at=at, submission=submission, digest=digest)
    if all_are_in(campaign, now, also=faction):
        carry_out_orders(campaign, by=by, at=at)
    return fact


def faults_of_orders(now: War, given: war.OrderSet) -> list[Violation]:
    """Everything wrong with a set, in the words of the faction that would give it."""
    if len(given.orders) > ORDERS_MOST:
        return [Violation(_("No more than %(most)s orders can be.") % {"most": ORDERS_MOST}, "orders", "too_many")]
    return [
        Violation(violation_in_words(each), each.place.replace("[", ".").rstrip("]"), each.code)
        for each in check(now.began, now.now, given)
    ]


def all_are_in(campaign: Campaign, now: War, *, also: str = "") -> bool:
    """Whether every faction that somebody leads and that has a force left has given orders for the turn."""
    led = set(Seat.objects.filter(campaign=campaign, left_at=None).values_list("faction", flat=True))
    fighting = {force.faction for force in now.now.standing}
    given = {row.faction for row in now.rows if row.kind == Fact.Kind.ORDERS and row.turn == now.turn}
    return bool(led & fighting) and led & fighting <= given | {also}
