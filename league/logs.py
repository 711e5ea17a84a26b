"""Lines of the log: one act, one line, and no secret of anybody in it."""

from __future__ import annotations

import logging
import re

__all__ = ["Line"]

# Addresses whose last part opens a door: invitations, links to choose a new password, links to confirm an address.
SECRET_PARTS = re.compile(r"(/join/|/reset/key/|/confirm-email/)[^/\s]+")
CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]")


class Line(logging.Formatter):
    """What somebody typed cannot begin a line of its own, and what opens a door is left out."""

    def formatMessage(self, record: logging.LogRecord) -> str:  # noqa: N802 - the library's name
        line = SECRET_PARTS.sub(r"\1[secret]", super().formatMessage(record))
        return CONTROL.sub(lambda found: repr(found[0])[1:-1], line)
