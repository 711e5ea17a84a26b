"""What can arrive twice is safe twice: find what an earlier arrival of the same submission made.

A service asks `earlier` before anything else and writes its row by `write_once`. Where it locks something, it asks
after the lock, since an arrival that had to wait for its twin would otherwise look before the twin had written.
"""

from __future__ import annotations

import hashlib
import json
from typing import Any, TypeVar
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from league.clubs.models import Submitted
from league.errors import Refused

__all__ = ["SubmissionReused", "digest_of", "earlier", "write_once"]

Row = TypeVar("Row", bound=Submitted)


class SubmissionReused(Refused):
    """The same submission name came with other contents: two different things must have two names."""

    status = 409


def digest_of(contents: Any) -> str:
    """A digest of what was submitted, the same for the same facts however they are ordered."""
    text = json.dumps(contents, sort_keys=True, separators=(",", ":"), default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def earlier(model: type[Row], submission: UUID, digest: str) -> Row | None:
    """The row an earlier arrival made, or None.

    Raises:
        SubmissionReused: the name was used for other contents.
    """
    row: Row | None = model._default_manager.filter(submission=submission).first()  # noqa: SLF001 - documented API
    if row is not None and row.submission_digest != digest:
        raise SubmissionReused(_("This was already sent once with other contents. Open the page anew and try again."))
    return row


def write_once(model: type[Row], submission: UUID, digest: str, **facts: Any) -> tuple[Row, bool]:
    """Write the row, or find the one that the same submission wrote at this very moment; and whether it is new.

    Raises:
        SubmissionReused: the name was used for other contents.
        IntegrityError: another constraint than the submission's would break; the transaction can go on.
    """
    try:
        with transaction.atomic():
            made: Row = model._default_manager.create(submission=submission, submission_digest=digest, **facts)  # noqa: SLF001 - documented API
    except IntegrityError:
        again = earlier(model, submission, digest)
        if again is None:
            raise
        return again, False
    return made, True
