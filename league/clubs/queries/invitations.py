"""Which links let people in, and whether they still do."""

from __future__ import annotations

import hashlib
from datetime import datetime
from typing import Any

from django.db.models import Case, CharField, F, QuerySet, TextChoices, Value, When
from django.utils.translation import gettext_lazy as _

from league.clubs.models import Club, Invitation

__all__ = ["InvitationState", "digest_of_secret", "invitation_by", "invitations_of", "state_of"]


class InvitationState(TextChoices):
    OPEN = "open", _("open")
    USED = "used", _("used up")
    EXPIRED = "expired", _("expired")
    REVOKED = "revoked", _("revoked")


def digest_of_secret(secret: str) -> str:
    """SHA-256 without salt is enough because the secret itself has 256 random bits."""
    return hashlib.sha256(secret.encode()).hexdigest()


def state_of(invitation: Invitation, now: datetime) -> InvitationState:
    if invitation.revoked_at is not None:
        return InvitationState.REVOKED
    if invitation.uses >= invitation.uses_allowed:
        return InvitationState.USED
    if invitation.expires_at <= now:
        return InvitationState.EXPIRED
    return InvitationState.OPEN


def invitation_by(secret: str) -> Invitation | None:
    """The invitation this link belongs to, in whatever state, with its club and guest."""
    return Invitation.objects.filter(digest=digest_of_secret(secret)).select_related("club", "guest").first()


def invitations_of(club: Club, now: datetime) -> QuerySet[Invitation, Invitation]:
    """All links ever made, the latest first, each with its `state`."""
    state: Any = Case(
        When(revoked_at__isnull=False, then=Value(InvitationState.REVOKED.value)),
        When(uses__gte=F("uses_allowed"), then=Value(InvitationState.USED.value)),
        When(expires_at__lte=now, then=Value(InvitationState.EXPIRED.value)),
        default=Value(InvitationState.OPEN.value),
        output_field=CharField(),
    )
    invitations: QuerySet[Invitation, Invitation] = Invitation.objects.filter(club=club).select_related(
        "created_by", "guest"
    )
    return invitations.annotate(state=state).order_by("-pk")
