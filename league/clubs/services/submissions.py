"""What can arrive twice is safe twice: find what an earlier arrival of the same submission made."""

from __future__ import annotations

import hashlib
import json
from typing import Any, TypeVar
from uuid import UUID

from django.utils.translation import gettext as _

from league.clubs.models import Submitted
from league.errors import Refused

__all__ = ["SubmissionReused", "digest_of", "earlier"]

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
