"""Fields that take JSON at its word: text is text, a number is a number, and neither is a spelling of the other.

The framework's own fields are made for forms, where everything is text: they take "5" for 5, "on" for true, 1 for "1".
"""

from __future__ import annotations

import re
from typing import Any
from uuid import UUID

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

__all__ = ["Day", "Moment", "RowId", "Submission", "Text", "Whole", "YesNo"]

# What fits a column of whole numbers in every database this runs on.
LARGEST = 2**31 - 1
CANONICAL_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}", re.IGNORECASE | re.ASCII)
ISO_DAY = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)
CLOCK = re.compile(r"\d\d:\d\d(:\d\d)?", re.ASCII)


class Text(serializers.CharField):
    def to_internal_value(self, data: Any) -> str:
        if not isinstance(data, str):
            self.fail("invalid")
        return super().to_internal_value(data)


def is_whole(data: Any) -> bool:
    """JSON has one kind of number: 5.0 is a whole one."""
    return (isinstance(data, int) and not isinstance(data, bool)) or (isinstance(data, float) and data.is_integer())


class Whole(serializers.IntegerField):
    """A whole number that fits a column."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**{"min_value": -LARGEST, "max_value": LARGEST, **options})

    def to_internal_value(self, data: Any) -> int:
        if not is_whole(data):
            self.fail("invalid")
        return int(data)


class YesNo(serializers.BooleanField):
    def to_internal_value(self, data: Any) -> bool:
        if not isinstance(data, bool):
            self.fail("invalid", input=data)
        return data


class Submission(serializers.UUIDField):
    """The client's name for an act, in the one form RFC 9562 writes it: sent twice, it is done once."""

    def to_internal_value(self, data: Any) -> UUID:
        if not isinstance(data, str) or not CANONICAL_UUID.fullmatch(data):
            self.fail("invalid", value=data)
        return UUID(data)


class Day(serializers.DateField):
    """A day as 2026-03-19, in no other spelling."""

    def to_internal_value(self, data: Any) -> Any:
        if not isinstance(data, str) or not ISO_DAY.fullmatch(data):
            self.fail("invalid", format="YYYY-MM-DD")
        return super().to_internal_value(data)


# Not the format "time", which by RFC 3339 names an offset: a club's clock is its own.
@extend_schema_field({"type": "string", "pattern": r"^([01][0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9])?$"})
class Moment(serializers.TimeField):
    """A time of day as 19:00 or 19:00:00."""

    def to_internal_value(self, data: Any) -> Any:
        if not isinstance(data, str) or not CLOCK.fullmatch(data):
            self.fail("invalid", format="hh:mm[:ss]")
        return super().to_internal_value(data)


class RowId(serializers.PrimaryKeyRelatedField):
    """The id of a row, as a number."""

    def to_internal_value(self, data: Any) -> Any:
        if not is_whole(data):
            self.fail("incorrect_type", data_type=type(data).__name__)
        if not 0 < data <= LARGEST:
            self.fail("does_not_exist", pk_value=data)
        return super().to_internal_value(int(data))
