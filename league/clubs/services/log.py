"""The club's book of acts: one line for each thing a service did."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from django.db import models
from django.utils import timezone

from league.clubs.models import Club, LogEntry, Member

__all__ = ["log_act", "log_acts"]


def log_act(
    club: Club, act: str, subject: models.Model, *, by: Member | None, at: datetime | None = None, **details: Any
) -> LogEntry:
    """Write one line; called inside the transaction of the act itself, so neither stands without the other."""
    return LogEntry.objects.create(
        club=club,
        act=act,
        subject=f"{subject._meta.model_name}:{subject.pk}",  # noqa: SLF001 - Django's documented model API
        by=by,
        at=at or timezone.now(),
        details=details,
    )


def log_acts(
    club: Club, act: str, subjects: Iterable[models.Model], *, by: Member | None, at: datetime, **details: Any
) -> list[LogEntry]:
    """One line for each of many subjects of the same act, written at once."""
    return LogEntry.objects.bulk_create(
        LogEntry(
            club=club,
            act=act,
            subject=f"{subject._meta.model_name}:{subject.pk}",  # noqa: SLF001 - Django's documented model API
            by=by,
            at=at,
            details=details,
        )
        for subject in subjects
    )
