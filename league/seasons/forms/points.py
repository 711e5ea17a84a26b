"""Points as people write them."""

from __future__ import annotations

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from league.web import half_points

__all__ = ["HalfPointsField", "half_points_of"]

WRITTEN = re.compile(r"([+-]?)([0-9]{0,4})(½|[.,][05]0*)?")


def half_points_of(text: str) -> int | None:
    """Twice the points written as 3, 1.5, 1,5, 1½, ½ or -2; None for anything else."""
    text = text.strip().replace("\N{MINUS SIGN}", "-").replace("1/2", "½").replace(" ", "")
    found = WRITTEN.fullmatch(text)
    if found is None or not (found[2] or found[3]):
        return None
    half = 1 if found[3] and (found[3] == "½" or found[3][1] == "5") else 0
    value = 2 * int(found[2] or 0) + half
    return -value if found[1] == "-" else value


class HalfPointsField(forms.CharField):
    """Cleans to twice the points, a whole number; shows what it was given the same way."""

    default_error_messages = {"points": _("Write points as 3, 1.5 or 1½.")}

    def __init__(self, **options: Any) -> None:
        widget = forms.TextInput(attrs={"inputmode": "decimal", "size": 5, "maxlength": 12})
        super().__init__(**{"widget": widget, **options})

    def to_python(self, value: Any) -> Any:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        points = half_points_of(text)
        if points is None:
            raise ValidationError(self.error_messages["points"], code="points")
        return points

    def prepare_value(self, value: Any) -> Any:
        return half_points(value) if isinstance(value, int) else value
