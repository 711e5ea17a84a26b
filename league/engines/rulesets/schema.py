"""The shipped JSON Schema of a ruleset document."""

from __future__ import annotations

import json
from importlib import resources
from typing import Any

__all__ = ["ruleset_schema"]


def ruleset_schema() -> dict[str, Any]:
    """The schema, for clients and editors. It says what a schema can; `parse_ruleset` has the last word."""
    source = resources.files("league.engines.rulesets").joinpath("ruleset.schema.json")
    schema: dict[str, Any] = json.loads(source.read_text(encoding="utf-8"))
    return schema
