"""The JSON Schema of a campaign document, made from its shape. The shipped file is this, written down."""

from __future__ import annotations

from dataclasses import MISSING, is_dataclass
from typing import Any, get_args

from league.engines.documents.campaign_shape import (
    KINDS,
    LONGEST,
    Shape,
    bounds_of,
    default_of,
    is_id,
    is_literal,
    is_ruleset,
    item_of,
    kinds_of,
    shapes_of,
    strip_none,
)
from league.engines.war import Campaign, Fact

__all__ = ["schema"]


def schema(form: str) -> dict[str, Any]:
    """The whole schema; `form` is the document's format."""
    found: dict[str, Any] = {}
    whole = _object(Campaign, found)
    whole["properties"] = {
        "format": {"const": form},
        **whole["properties"],
        "facts": {"type": "array", "items": _of(Fact, found, None)},
    }
    whole["required"] = ["format", *whole["required"]]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A campaign: how a war began, and every fact since",
        **whole,
        "$defs": dict(sorted(found.items())),
    }


def _of(shape: Shape, found: dict[str, Any], at: tuple[type, str] | None) -> dict[str, Any]:
    shape, may_be_none = strip_none(shape)
    made = _plain(shape, found, at)
    return {"anyOf": [made, {"type": "null"}]} if may_be_none else made


def _plain(shape: Shape, found: dict[str, Any], at: tuple[type, str] | None) -> dict[str, Any]:
    if is_ruleset(shape):
        return {"type": "object", "description": 'A ruleset document, "drumhead ruleset 1".'}
    if kinds_of(shape):
        return {"oneOf": [_reference(each, found) for each in kinds_of(shape).values()]}
    if is_dataclass(shape) and isinstance(shape, type):
        return _reference(shape, found)
    item = item_of(shape)
    if item is not None:
        return {"type": "array", "items": _of(item, found, None)}
    return _value(shape, at)


def _value(shape: Shape, at: tuple[type, str] | None) -> dict[str, Any]:
    if is_literal(shape):
        return {"enum": list(get_args(shape))}
    if is_id(shape):
        return {"anyOf": [{"type": "integer"}, {"type": "string", "minLength": 1}]}
    if shape is bool:
        return {"type": "boolean"}
    if shape is str:
        needed = at is not None and default_of(*at) is MISSING
        return {"type": "string", **({"minLength": 1} if needed else {}), "maxLength": LONGEST}
    low, high = bounds_of(*at) if at else (-(2**53), 2**53)
    return {"type": "integer", "minimum": low, "maximum": high}


def _reference(of: type, found: dict[str, Any]) -> dict[str, Any]:
    name = KINDS.get(of, of.__name__.lower())
    if name not in found:
        found[name] = {}
        found[name].update(_object(of, found))
    return {"$ref": f"#/$defs/{name}"}


def _object(of: type, found: dict[str, Any]) -> dict[str, Any]:
    kind = {"kind": {"const": KINDS[of]}} if of in KINDS else {}
    shapes = shapes_of(of)
    properties = {**kind, **{name: _of(shape, found, (of, name)) for name, shape in shapes.items()}}
    needed = [*kind, *(name for name in shapes if default_of(of, name) is MISSING)]
    told = " ".join((of.__doc__ or "").split())
    # A dataclass without a docstring gets its signature for one.
    about = {} if not told or told.startswith(f"{of.__name__}(") else {"description": told}
    return {
        "type": "object",
        **about,
        "properties": properties,
        "required": needed,
        "additionalProperties": False,
    }
