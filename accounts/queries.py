"""What an account page shows."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db.models import Case, CharField, QuerySet, TextChoices, Value, When
from django.utils.translation import gettext_lazy as _

from accounts.models import ApiToken, User

__all__ = ["TokenState", "tokens_of"]


class TokenState(TextChoices):
    ALIVE = "alive", _("in use")
    EXPIRED = "expired", _("expired")
    REVOKED = "revoked", _("revoked")


def tokens_of(user: User, now: datetime) -> QuerySet[ApiToken, ApiToken]:
    """All tokens the person ever made, the latest first, each with its `state`."""
    state: Any = Case(
        When(revoked_at__isnull=False, then=Value(TokenState.REVOKED.value)),
        When(expires_at__lte=now, then=Value(TokenState.EXPIRED.value)),
        default=Value(TokenState.ALIVE.value),
        output_field=CharField(),
    )
    tokens: QuerySet[ApiToken, ApiToken] = ApiToken.objects.visible_to(user).annotate(state=state).order_by("-pk")
    return tokens
