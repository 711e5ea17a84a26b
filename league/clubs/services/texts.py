"""How long a text may be: as long as its column says, so that no second number can say otherwise."""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext as _

from league.errors import Violation

__all__ = ["too_long"]


def too_long(model: type[models.Model], **texts: str) -> list[Violation]:
    """A violation for every text that its column of the model, named alike, does not hold."""
    longest = {field.name: getattr(field, "max_length", None) for field in model._meta.get_fields()}  # noqa: SLF001 - documented API
    return [
        Violation(_("Keep this under %(most)s characters.") % {"most": longest[field]}, field, "too_long")
        for field, text in texts.items()
        if len(text) > (longest[field] or len(text))
    ]
