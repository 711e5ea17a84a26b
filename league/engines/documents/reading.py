"""From bytes to checked JSON: everything wrong with a document at once, each with its place."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib import resources
from typing import Any

from jsonschema import Draft202012Validator, FormatChecker
from jsonschema.exceptions import ValidationError

__all__ = ["MOST_BYTES", "BadDocument", "Fault", "faults_by_schema", "in_schema_order", "parse", "schema_of"]

MOST_BYTES = 20 * 1024 * 1024


@dataclass(frozen=True, kw_only=True, slots=True)
class Fault:
    """One thing wrong: `place` is a JSON Pointer (RFC 6901), empty for the whole document; `text` a sentence."""

    place: str
    text: str

    def __str__(self) -> str:
        return f"{self.place}: {self.text}" if self.place else self.text


class BadDocument(ValueError):
    """The document cannot be read. `faults` has every reason, in the order of the document's parts."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


def parse(data: bytes) -> Any:
    """JSON (RFC 8259) out of bytes, stricter than the standard library: no NaN, no key twice, UTF-8 only.

    Raises:
        BadDocument: it is no such JSON, or larger than `MOST_BYTES`.
    """
    if len(data) > MOST_BYTES:
        raise BadDocument([Fault(place="", text=f"The document is larger than {MOST_BYTES // 1024**2} MB.")])
    try:
        return json.loads(data.decode("utf-8"), object_pairs_hook=_once_each, parse_constant=_no_constant)
    except UnicodeDecodeError:
        raise BadDocument([Fault(place="", text="The document is not UTF-8 text.")]) from None
    except RecursionError:
        raise BadDocument([Fault(place="", text="The document is nested too deeply.")]) from None
    except json.JSONDecodeError as failure:
        where = f"it cannot be read from line {failure.lineno}, column {failure.colno} on"
        raise BadDocument([Fault(place="", text=f"The document is not JSON: {where}.")]) from None
    except ValueError as failure:
        raise BadDocument([Fault(place="", text=f"The document is not JSON: {failure}.")]) from None


def _once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"the key {twice!r} stands twice in one object")
    return made


def _no_constant(name: str) -> Any:
    raise ValueError(f"{name} is not a number in JSON")


@cache
def schema_of(name: str) -> Mapping[str, Any]:
    """The shipped schema of a document: `schema_of("season")`. Not to be changed by the caller."""
    text = resources.files(__package__).joinpath(f"{name}.schema.json").read_text(encoding="utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema


def _dates() -> FormatChecker:
    """RFC 3339's full-date: the standard library also reads 20260319 and 2026-W12-4, which are none."""
    checker = FormatChecker([])
    checker.checks("date", raises=ValueError)(
        lambda value: not isinstance(value, str) or date.fromisoformat(value).isoformat() == value
    )
    return checker


@cache
def _validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(schema_of(name), format_checker=_dates())


def faults_by_schema(name: str, document: Any) -> list[Fault]:
    """Everything the schema has against it."""
    return [
        Fault(place=pointer(leaf.absolute_path), text=words_for(leaf))
        for failure in _validator(name).iter_errors(document)
        for leaf in _leaves(failure)
    ]


def _leaves(failure: ValidationError) -> Iterator[ValidationError]:
    """Of "this or null", only what is wrong with this."""
    if failure.validator == "anyOf" and failure.instance is not None:
        inner = [each for each in failure.context or () if each.validator_value != "null"]
        for each in inner:
            yield from _leaves(each)
    else:
        yield failure


def pointer(path: Iterable[str | int]) -> str:
    """A JSON Pointer of these steps."""
    return "".join(f"/{str(step).replace('~', '~0').replace('/', '~1')}" for step in path)


TYPES = {
    "string": "text",
    "integer": "a whole number",
    "boolean": "true or false",
    "array": "a list",
    "object": "an object",
    "null": "null",
}


def words_for(failure: ValidationError) -> str:
    """What a failed keyword of JSON Schema means, in a sentence; the value itself only where it is short."""
    words = WORDS.get(str(failure.validator))
    return words(failure.validator_value, failure.instance, failure) if words else failure.message


def _missing(wanted: Any, given: Any, failure: ValidationError) -> str:
    name = next(name for name in wanted if name not in given and failure.message.startswith(repr(name)))
    return f"{name!r} is missing."


def _unknown(_wanted: Any, given: Any, failure: ValidationError) -> str:
    schema: Any = failure.schema
    extra = sorted(name for name in given if name not in schema.get("properties", {}))
    return f"Unknown here: {', '.join(shown(name) for name in extra[:10])}."


def _not(wanted: Any, _given: Any, _failure: ValidationError) -> str:
    if wanted == {"const": 0}:
        return "This must not be 0."
    return "There is a character in this text that may not stand there."


def _pattern(wanted: Any, _given: Any, _failure: ValidationError) -> str:
    return "This must not be blank." if wanted == "\\S" else "This must begin with a letter or a digit."


WORDS: Mapping[str, Callable[[Any, Any, ValidationError], str]] = {
    "required": _missing,
    "additionalProperties": _unknown,
    "not": _not,
    "pattern": _pattern,
    "type": lambda wanted, _given, _failure: f"This must be {TYPES.get(wanted, wanted)}.",
    "const": lambda wanted, _given, _failure: f"This must be {wanted!r}.",
    "enum": lambda wanted, given, _failure: (
        f"This must be one of {', '.join(map(shown, wanted))}; it is {shown(given)}."
    ),
    "minimum": lambda wanted, given, _failure: f"This must be {wanted} or more; it is {shown(given)}.",
    "maximum": lambda wanted, given, _failure: f"This must be {wanted} or less; it is {shown(given)}.",
    "minLength": lambda _wanted, _given, _failure: "This must not be blank.",
    "maxLength": lambda wanted, _given, _failure: f"This is longer than {wanted} characters.",
    "minItems": lambda wanted, _given, _failure: f"This needs {wanted} or more.",
    "maxItems": lambda wanted, _given, _failure: f"These are more than {wanted}.",
    "maxProperties": lambda wanted, _given, _failure: f"These are more than {wanted}.",
    "uniqueItems": lambda _wanted, _given, _failure: "Something stands twice in this list.",
    "format": lambda _wanted, given, _failure: f"This must be a day as YYYY-MM-DD; it is {shown(given)}.",
}


def shown(value: object) -> str:
    """A value in a message: cut where it is long, with nothing unprintable."""
    text = "null" if value is None else ascii(value)
    return text if len(text) <= 60 else f"{text[:57]}..."  # noqa: PLR2004 - a line's worth


def in_schema_order(value: Any, schema: Mapping[str, Any], root: Mapping[str, Any]) -> Any:
    """The same value with the keys of every object in the order in which its schema lists them, free keys sorted."""
    schema = _resolved(schema, root)
    if isinstance(value, dict):
        listed = schema.get("properties", {})
        places = {key: place for place, key in enumerate(listed)}
        free = schema.get("additionalProperties") or {}
        ordered = sorted(value, key=lambda key: (places.get(key, len(places)), key))
        return {key: in_schema_order(value[key], listed.get(key, free), root) for key in ordered}
    if isinstance(value, list):
        return [in_schema_order(each, schema.get("items", {}), root) for each in value]
    return value


def _resolved(schema: Mapping[str, Any], root: Mapping[str, Any]) -> Mapping[str, Any]:
    """The schema itself, its reference followed, the non-null half of "this or null" taken."""
    while True:
        if "$ref" in schema:
            schema = root["$defs"][schema["$ref"].rsplit("/", 1)[1]]
        elif "anyOf" in schema:
            schema = next(each for each in schema["anyOf"] if each.get("type") != "null")
        else:
            return schema
