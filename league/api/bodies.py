"""What is sent: read within bounds, and every key of it counted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from io import BytesIO
from typing import Any

from django.conf import settings
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from drf_spectacular.extensions import OpenApiSerializerExtension
from rest_framework import exceptions, serializers
from rest_framework.parsers import JSONParser

from league.api.problems import TooLarge

__all__ = ["JSONBody", "StrictSerializer"]

NUL = "\0"
DEEPEST = 60
TOO_DEEP = gettext_lazy("The JSON is nested too deeply.")


class JSONBody(JSONParser):
    """JSON of at most `most_bytes`, without text that no database keeps.

    The framework reads a JSON body without asking Django's limit, and takes "\\ud800" for a letter.
    """

    most_bytes: int = settings.DATA_UPLOAD_MAX_MEMORY_SIZE

    def parse(self, stream: Any, media_type: str | None = None, parser_context: Any = None) -> Any:
        raw = stream.read(self.most_bytes + 1)
        if len(raw) > self.most_bytes:
            raise TooLarge
        try:
            data = super().parse(BytesIO(raw), media_type, parser_context)
        except RecursionError:
            raise exceptions.ParseError(TOO_DEEP) from None
        if is_too_deep(data):
            raise exceptions.ParseError(TOO_DEEP)
        # Only an escape can spell either: UTF-8 has no half characters, and a raw NUL is not JSON.
        if rb"\u" in raw and any(is_unfit(text) for text in texts_in(data)):
            raise exceptions.ParseError(_("A text holds NUL or half a character, which cannot be kept."))
        return data


def is_too_deep(data: Any) -> bool:
    """Whether whoever walks the value by calling themselves could run out of stack."""
    level = [data]
    for _depth in range(DEEPEST):
        level = [
            inner
            for each in level
            if isinstance(each, dict | list)
            for inner in (each.values() if isinstance(each, dict) else each)
        ]
        if not level:
            return False
    return True


def texts_in(data: Any) -> Iterator[str]:
    """Every text of a JSON value, keys among them."""
    waiting = [data]
    while waiting:
        each = waiting.pop()
        if isinstance(each, str):
            yield each
        elif isinstance(each, dict):
            waiting += each.keys()
            waiting += each.values()
        elif isinstance(each, list):
            waiting += each


def is_unfit(text: str) -> bool:
    return NUL in text or any("\ud800" <= letter <= "\udfff" for letter in text)


class StrictSerializer(serializers.Serializer):
    """A body in which every key counts: one that nobody reads is a mistake, told together with the other errors.

    A key that can only be read counts as unknown in a body too. Serializers inside serializers, and lists of them,
    are as strict as they are themselves declared.
    """

    # What a change must name although it may leave out everything else.
    never_left_out: tuple[str, ...] = ()

    def to_internal_value(self, data: Any) -> Any:
        wrong = self.wrong_keys(data) if isinstance(data, Mapping) else {}
        try:
            kept = super().to_internal_value(data)
        except exceptions.ValidationError as failure:
            if wrong and isinstance(failure.detail, dict):
                raise exceptions.ValidationError({**wrong, **failure.detail}) from None
            raise
        if wrong:
            raise exceptions.ValidationError(wrong)
        return kept

    def wrong_keys(self, data: Mapping[Any, Any]) -> dict[str, list[exceptions.ErrorDetail]]:
        known = {name for name, field in self.fields.items() if not field.read_only}
        unknown = exceptions.ErrorDetail(_("There is no such field."), code="unknown")
        missing = exceptions.ErrorDetail(serializers.Field.default_error_messages["required"], code="required")
        return {
            **{str(name): [unknown] for name in data if name not in known},
            **{name: [missing] for name in self.never_left_out if name not in data},
        }


class StrictBodies(OpenApiSerializerExtension):
    """Says in the API's description what `StrictSerializer` does: no other keys, and some that are always there."""

    target_class = StrictSerializer
    match_subclasses = True

    def map_serializer(self, auto_schema: Any, direction: Any) -> dict[str, Any]:
        schema = auto_schema._map_serializer(self.target, direction, bypass_extensions=True)  # noqa: SLF001 - its documented use
        if direction != "request":
            return dict(schema)
        required = sorted({*schema.get("required", ()), *self.target.never_left_out})
        return {**schema, "additionalProperties": False, **({"required": required} if required else {})}
