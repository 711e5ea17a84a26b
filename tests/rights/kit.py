"""One row of everything in the stores: `member` owns the kit, `opponent` asks for some of it."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from league.clubs.models import Club, Member, Night
from league.stores.services.holdings import HoldingFacts, add_holding
from league.stores.services.kinds import KindFacts, add_kind, offer_pack
from league.stores.services.loans import ask_for
from league.stores.services.photos import photograph_holding
from league.stores.services.promises import promise_to_bring


def kit_values(
    club: Club, *, night: Night, organiser: Member, member: Member, opponent: Member, picture: SimpleUploadedFile
) -> dict[tuple[str, str], object]:
    kind = add_kind(club, facts=KindFacts(name="Smoke marker", category="marker"), submission=uuid4(), by=organiser)
    offer = offer_pack(kind, pieces=20, price_pence=450, by=organiser)
    holding = add_holding(
        kind, owner=member, count=12, facts=HoldingFacts(colour="grey"), submission=uuid4(), by=member
    )
    holding = photograph_holding(holding, file=picture, by=member)
    due_on = timezone.localdate() + timedelta(days=7)
    loan = ask_for(holding, count=3, due_on=due_on, submission=uuid4(), by=opponent)
    promise = promise_to_bring(holding, night=night, count=4, submission=uuid4(), by=member)
    return {
        ("promise", "holding"): holding.pk,
        ("promises", "pk"): promise.pk,
        ("packing", "member"): member.pk,
        ("kinds", "pk"): kind.pk,
        ("packs", "offer"): offer.pk,
        ("holdings", "pk"): holding.pk,
        ("book", "act"): "bought",
        ("loans", "pk"): loan.pk,
        ("members", "member"): member.pk,
        ("count", "label"): holding.label,
        ("shelves", "label"): holding.label,
    }
