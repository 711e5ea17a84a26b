"""A report was corrected after its turn was closed: reckon the war anew, or let it stand and settle."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Fact
from league.campaigns.queries.corrections import Correction, correction_of
from league.campaigns.queries.war import War, war_of
from league.campaigns.services.acts import log_act
from league.campaigns.services.campaigns import CampaignMovedOn, CampaignRefused, judged
from league.campaigns.services.facts import add_fact
from league.campaigns.services.records import call_the_rolls, set_clashes_aside
from league.campaigns.services.rulings import faults_of_effects, faults_of_reason
from league.clubs.models import Member
from league.clubs.services.submissions import digest_of, earlier
from league.engines import war
from league.engines.documents.campaign import write_fact

__all__ = ["accept_replay", "settle"]


@transaction.atomic
def accept_replay(campaign: Campaign, *, outcome: int, seen: str, by: Member) -> Fact:
    """Let what the report says now take the place of the outcome that was booked, and reckon the war anew from there.
    Roll-calls on the rosters' records that no longer hold are replaced.

    Raises:
        NotYoursToDo
        CampaignMovedOn: what would change is no longer what was looked at.
    """
    campaign = judged(campaign, by=by)
    correction = _found(war_of(campaign), outcome, seen)
    at = timezone.now()
    fact = add_fact(campaign, correction.instead, report=correction.report, by=by, at=at)
    after = war_of(campaign)
    set_clashes_aside(campaign, after, at=at)
    call_the_rolls(campaign, after, since=correction.booked.turn, at=at)
    log_act(campaign.club, "war_replayed", campaign, by=by, at=at, turn=correction.booked.turn)
    return fact


@transaction.atomic
def settle(
    campaign: Campaign,
    *,
    outcome: int,
    seen: str,
    reason: str,
    effects: Sequence[war.Effect] = (),
    submission: UUID,
    by: Member,
) -> Fact:
    """Let the booked outcome stand although its report says otherwise now, and change the war of today instead.

    Raises:
        NotYoursToDo, CampaignMovedOn
        CampaignRefused: with everything that is wrong; `field` is `effects.<n>`.
        SubmissionReused
    """
    reason = reason.strip()
    campaign = judged(campaign, by=by)
    told = {"outcome": outcome, "seen": seen, "reason": reason}
    ruling = war.Ruling(id=0, sequence=0, turn=1, reason=reason or "-", effects=tuple(effects))
    digest = digest_of({"campaign": campaign.pk, "by": by.pk, **told, "effects": write_fact(ruling).get("effects", [])})
    if again := earlier(Fact, submission, digest):
        return again
    now = war_of(campaign)
    correction = _found(now, outcome, seen)
    if faults := [*faults_of_reason(reason), *faults_of_effects(now, effects)]:
        raise CampaignRefused(faults)
    at = timezone.now()
    settlement = war.Settlement(
        id=0,
        sequence=0,
        turn=now.turn,
        reason=reason,
        effects=tuple(effects),
        phase="orders" if now.now.phase == "orders" else "aftermath",
        outcome=correction.fact.pk,
        reference=correction.reference,
    )
    log_act(campaign.club, "war_settled", campaign, by=by, at=at, turn=correction.booked.turn)
    return add_fact(campaign, settlement, by=by, at=at, submission=submission, digest=digest)


def _found(now: War, outcome: int, seen: str) -> Correction:
    correction = correction_of(now, outcome)
    if correction is None or correction.digest != seen:
        raise CampaignMovedOn(_("What this correction would change is another by now. Look at it again."))
    return correction
