"""The umpire's word: a fact with a reason, and what it changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Fact
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused, judged
from league.campaigns.services.facts import add_fact
from league.clubs.models import Member
from league.clubs.services.submissions import digest_of, earlier
from league.engines import war
from league.engines.documents.campaign import write_fact
from league.errors import Violation

__all__ = ["faults_of_effects", "faults_of_reason", "rule"]

Phase = Literal["orders", "aftermath"]
EFFECTS_MOST = 100
REASON_MOST = 2000
LOADS_MOST = 1_000_000
POINTS_MOST = 100_000


@transaction.atomic
def rule(
    campaign: Campaign,
    *,
    turn: int,
    reason: str,
    effects: Sequence[war.Effect] = (),
    submission: UUID,
    by: Member,
) -> Fact:
    """Give a ruling in the turn being played. While it is planned the ruling acts before the orders are carried out,
    once they are revealed at the turn's end.

    Raises:
        NotYoursToDo, CampaignMovedOn
        CampaignRefused: with everything that is wrong; `field` is `effects.<n>`.
        SubmissionReused
    """
    reason = reason.strip()
    campaign = judged(campaign, by=by)
    now = war_of(campaign)
    phase: Phase = "orders" if now.now.phase == "orders" else "aftermath"
    ruling = war.Ruling(id=0, sequence=0, turn=turn, reason=reason or "-", effects=tuple(effects), phase=phase)
    facts = {key: value for key, value in write_fact(ruling).items() if key != "phase"}
    digest = digest_of({"campaign": campaign.pk, "by": by.pk, **facts})
    if again := earlier(Fact, submission, digest):
        return again
    if now.turn != turn or now.now.phase == "closed":
        raise CampaignMovedOn(_("The campaign has gone on meanwhile. Look at it again."))
    if faults := [*faults_of_reason(reason), *faults_of_effects(now, effects)]:
        raise CampaignRefused(faults)
    at = timezone.now()
    log_act(campaign.club, "war_ruled", campaign, by=by, at=at, turn=turn)
    return add_fact(campaign, ruling, by=by, at=at, submission=submission, digest=digest)


def faults_of_reason(reason: str) -> Iterator[Violation]:
    if not reason:
        yield Violation(_("A ruling has a reason."), "reason", "missing")
    if len(reason) > REASON_MOST:
        yield Violation(_("Keep this under %(most)s characters.") % {"most": REASON_MOST}, "reason", "long")


def faults_of_effects(now: War, effects: Sequence[war.Effect]) -> Iterator[Violation]:
    """What cannot be carried out as the war stands."""
    if len(effects) > EFFECTS_MOST:
        yield Violation(_("No more than %(most)s changes at once.") % {"most": EFFECTS_MOST}, "effects", "too_many")
        return
    for number, effect in enumerate(effects):
        for words, code in _faults_of(now, effect):
            yield Violation(words, f"effects.{number}", code)


def _faults_of(now: War, effect: war.Effect) -> Iterator[tuple[str, str]]:
    region, faction = getattr(effect, "region", None), getattr(effect, "faction", None)
    if isinstance(effect, war.RaiseForce):
        yield _("A force enters the war through the page for new forces."), "raise_elsewhere"
        return
    if region is not None and now.now.map.region(region) is None:
        yield _("There is no region %(key)s.") % {"key": region}, "unknown_region"
    nobody = isinstance(effect, war.SetControl) and not faction
    if faction is not None and not nobody and now.began.faction(faction) is None:
        yield _("There is no faction %(key)s.") % {"key": faction}, "unknown_faction"
    yield from _faults_of_things(now, effect)


def _faults_of_things(now: War, effect: war.Effect) -> Iterator[tuple[str, str]]:
    if isinstance(effect, war.PlaceForce | war.RemoveForce):
        force = now.now.forces.get(effect.force)
        if force is None:
            yield _("There is no force %(key)s.") % {"key": effect.force}, "unknown_force"
        elif force.gone == "destroyed" or (force.gone and isinstance(effect, war.RemoveForce)):
            yield _("%(force)s is no longer in the war.") % {"force": force.name}, "force_gone"
    if isinstance(effect, war.AddDepot) and effect.region in now.now.depots:
        yield _("There is a depot already."), "depot_there"
    if isinstance(effect, war.DropDepot) and effect.region not in now.now.depots:
        yield _("There is no depot."), "no_depot"
    if isinstance(effect, war.GrantStock):
        yield from _grant(now, effect)
    if isinstance(effect, war.AwardPoints) and not (effect.points and abs(effect.points) <= POINTS_MOST):
        yield _("Points are from 1 to %(most)s, more or fewer.") % {"most": POINTS_MOST}, "points"


def _grant(now: War, effect: war.GrantStock) -> Iterator[tuple[str, str]]:
    there = now.now.balances.get((effect.region, effect.faction), 0)
    if not effect.amount or abs(effect.amount) > LOADS_MOST:
        yield _("Loads are from 1 to %(most)s, more or fewer.") % {"most": LOADS_MOST}, "loads"
    elif effect.amount * 100 < -there:
        yield _("There is not so much supply there."), "supply_not_there"
