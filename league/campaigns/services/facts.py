"""Writing a campaign's facts. Called by acts that hold the campaign by `lock_campaign`, so that facts have one order."""

from __future__ import annotations

import secrets
from dataclasses import replace
from datetime import datetime
from uuid import UUID, uuid4

from django.db.models import Max

from league.battles.models import Report
from league.campaigns.models import Campaign, Fact, Secret
from league.campaigns.queries.facts import KIND_OF, as_data
from league.clubs.models import Member
from league.clubs.services.submissions import digest_of
from league.engines import war
from league.engines.fates import seed_commitment

__all__ = ["add_fact", "open_turn", "tell_seed"]


def add_fact(
    campaign: Campaign,
    fact: war.Fact,
    *,
    by: Member | None,
    at: datetime,
    report: Report | None = None,
    submission: UUID | None = None,
    digest: str = "",
) -> Fact:
    """Write one fact at the end of the campaign's order. Its `id` and `sequence` are given here; what it says for them
    is not looked at. What it `supersedes` takes the older fact's place in the fold."""
    data = as_data(fact)
    last: int | None = Fact.objects.filter(campaign=campaign).aggregate(last=Max("sequence"))["last"]
    return Fact.objects.create(
        campaign=campaign,
        sequence=(last or 0) + 1,
        turn=fact.turn,
        kind=KIND_OF[type(fact)],
        data=data,
        faction=fact.faction if isinstance(fact, war.OrderSet) else "",
        report=report,
        supersedes_id=fact.supersedes,
        by=by,
        at=at,
        submission=submission or uuid4(),
        submission_digest=digest or digest_of(data),
    )


def open_turn(campaign: Campaign, *, turn: int, by: Member | None, at: datetime) -> Fact:
    """Fix the seed of a turn's dice before anybody orders anything, and show its hash to all."""
    seed = secrets.token_hex(32)
    Secret.objects.create(campaign=campaign, turn=turn, seed=seed)
    promise = war.TurnSeed(id=0, sequence=0, turn=turn, commitment=seed_commitment(seed))
    return add_fact(campaign, promise, by=by, at=at)


def tell_seed(campaign: Campaign, *, turn: int, by: Member | None, at: datetime) -> Fact | None:
    """Show the seed of a turn that is over, in the place of its hash. Telling it twice is telling it once."""
    kept = Secret.objects.filter(campaign=campaign, turn=turn).first()
    promised = Fact.objects.in_force().filter(campaign=campaign, turn=turn, kind=Fact.Kind.SEED).first()
    if kept is None or promised is None or promised.data.get("seed"):
        return promised
    told = war.TurnSeed(id=0, sequence=0, turn=turn, commitment=promised.data["commitment"], seed=kept.seed)
    return add_fact(campaign, replace(told, supersedes=promised.pk), by=by, at=at)
