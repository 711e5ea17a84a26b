"""Parts of a campaign document on their own, as programs send them."""

from __future__ import annotations

from typing import Any

from league.engines import war
from league.engines.documents.campaign_values import Reader, written
from league.engines.documents.reading import BadDocument

__all__ = ["part_of", "read_effects", "read_rules"]


def part_of(value: Any, shape: Any) -> Any:
    """A value as the campaign document has it; what has its default is left out."""
    return written(value, shape)


def read_rules(data: Any) -> war.Rules:
    """The part `rules` of a campaign document.

    Raises:
        BadDocument: with every fault of its shape.
    """
    rules: war.Rules = _read(data, war.Rules, "rules")
    return rules


def read_effects(data: Any) -> tuple[war.Effect, ...]:
    """Effects as a ruling has them.

    Raises:
        BadDocument: with every fault of their shape.
    """
    effects: tuple[war.Effect, ...] = _read(data, tuple[war.Effect, ...], "effects")
    return effects


def _read(data: Any, shape: Any, name: str) -> Any:
    reader = Reader()
    value = reader.read(data, shape, (name,))
    if reader.faults:
        raise BadDocument(reader.faults)
    return value
