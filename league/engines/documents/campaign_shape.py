"""The shape of a campaign document, read off the engine's own dataclasses: one source for reader, writer and schema.

Every dataclass is an object with the fields' names; a field with a default may be left out, and is left out when it has
it. A tuple is a list. Where one of several classes may stand, `kind` says which.
"""

from __future__ import annotations

import types
from dataclasses import MISSING, Field, fields, is_dataclass
from functools import cache
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from league.engines.rulesets import Ruleset
from league.engines.strength import Engagement, RosterUnit
from league.engines.war import model

__all__ = ["KINDS", "Shape", "bounds_of", "default_of", "kinds_of", "origin_of", "shapes_of", "strip_none"]

LARGEST = 1_000_000_000
LONGEST = 4000

# What a class is called where several may stand.
KINDS: dict[type, str] = {
    model.OrderSet: "orders",
    model.TurnSeed: "seed",
    model.Revealed: "revealed",
    model.BattleOutcome: "outcome",
    model.Postponed: "postponed",
    model.Roll: "roll",
    model.OutsideBattle: "outside",
    model.Ruling: "ruling",
    model.Settlement: "settlement",
    model.MapEdited: "map_edited",
    model.Closed: "closed",
    model.Move: "move",
    model.Hold: "hold",
    model.DigIn: "dig_in",
    model.Rebuild: "rebuild",
    model.BuildDepot: "build_depot",
    model.SendSupply: "send_supply",
    model.SetControl: "set_control",
    model.PlaceForce: "place_force",
    model.RemoveForce: "remove_force",
    model.RaiseForce: "raise_force",
    model.AddDepot: "add_depot",
    model.DropDepot: "drop_depot",
    model.GrantStock: "grant_stock",
    model.AwardPoints: "award_points",
}
FACTS = tuple(each for each in KINDS if issubclass(each, model.Fact))
SIGNED = {(model.GrantStock, "amount"), (model.AwardPoints, "points"), (model.Laws, "numbers_x1000")} | {
    (model.Laws, "quality_x1000"),
    (model.Laws, "defence_x1000"),
}
FROM_ONE = {"turn", "pace", "sides", "figures"}
TAKES_NOUGHT = {(model.Replacement, "figures")}

Shape = Any
"""A type hint: str, int, bool, a Literal, `X | None`, `tuple[X, ...]`, `frozenset[X]`, a dataclass or a union of them."""


def origin_of(shape: Shape) -> Any:
    """What a type is made of: Union, tuple, Literal."""
    return get_origin(shape)


@cache
def shapes_of(of: Any) -> dict[str, Shape]:
    """The fields of a class that a document may name, each with its type."""
    hints = get_type_hints(of)
    found = {each.name: hints[each.name] for each in fields(of)}
    if of is Engagement:
        # A mapping by unit is a list of units in a document.
        found["listed"] = tuple[RosterUnit, ...]
    return found


def default_of(of: type, name: str) -> Any:
    """MISSING where the field must be given."""
    field: Field[Any] = next(each for each in fields(of) if each.name == name)
    if of is Engagement and name == "listed":
        return ()
    if field.default is not MISSING:
        return field.default
    return field.default_factory() if field.default_factory is not MISSING else MISSING


def strip_none(shape: Shape) -> tuple[Shape, bool]:
    """A type without its None, and whether it had one."""
    if origin_of(shape) not in (Union, types.UnionType):
        return shape, False
    rest = tuple(each for each in get_args(shape) if each is not type(None))
    if len(rest) == len(get_args(shape)):
        return shape, False
    return (rest[0] if len(rest) == 1 else Union[rest]), True  # noqa: UP007 - made from a tuple


def kinds_of(shape: Shape) -> dict[str, type]:
    """The classes that may stand here, by their kind; empty where there is no choice."""
    if shape is model.Fact:
        return {KINDS[each]: each for each in FACTS}
    if origin_of(shape) in (Union, types.UnionType) and all(is_dataclass(each) for each in get_args(shape)):
        return {KINDS[each]: each for each in get_args(shape)}
    return {}


def bounds_of(of: type, name: str) -> tuple[int, int]:
    """The least and the greatest a whole number may be."""
    if (of, name) in SIGNED:
        return -LARGEST, LARGEST
    if name in FROM_ONE and (of, name) not in TAKES_NOUGHT:
        return 1, LARGEST
    return 0, LARGEST


def is_literal(shape: Shape) -> bool:
    return origin_of(shape) is Literal


def item_of(shape: Shape) -> Shape | None:
    """What a list is a list of; None where it is no list."""
    return get_args(shape)[0] if origin_of(shape) in (tuple, frozenset) else None


def is_id(shape: Shape) -> bool:
    """A number or a name: ids of units and facts."""
    return origin_of(shape) in (Union, types.UnionType) and set(get_args(shape)) == {int, str}


def is_ruleset(shape: Shape) -> bool:
    return shape is Ruleset
