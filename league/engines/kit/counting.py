"""Counting out one need over the units of a side, and saying how it was counted."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from league.engines.kit.items import folded
from league.engines.rulesets import Need

__all__ = ["Counted", "Side", "Unit", "count_markers", "count_need", "named_sides"]

SHORT = 3  # "gas" is not several of anything
SO_MANY = re.compile(r"(\d{1,4})\s*(?:x\s+|×\s*|\s)(.+)", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True, slots=True)
class Unit:
    """A unit as it takes the field; a piece of gear is a text such as "rifles" or "2 machine guns"."""

    name: str
    unit_class: str = ""
    figures: int = 1
    gear: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Side:
    key: str
    name: str = ""
    units: tuple[Unit, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Counted:
    count: int
    why: tuple[str, ...] = ()


def named_sides(sides: Sequence[Side]) -> tuple[Side, ...]:
    """The sides, each with a name to call it by."""
    return tuple(side if side.name else replace(side, name=side.key) for side in sides)


def count_need(need: Need, side: Side) -> Counted:
    """How many pieces one side asks for; `per` says what is counted."""
    units = [unit for unit in side.units if _counts(need, unit)]
    if need.per in {"table", "side"}:
        return _once(need, units)
    if need.per == "pool":
        return _largest_pool(need, units)
    if need.per == "gear":
        return _by_gear(need, units)
    if need.per == "figure":
        return _ratio(need, sum(unit.figures for unit in units), "figure")
    if need.per == "markers":
        return _likely(need, len(units))
    return _ratio(need, len(units), "unit")


def count_markers(need: Need, sides: Iterable[Side]) -> Counted:
    """What is most likely in use at once on the whole table."""
    return _likely(need, sum(_counts(need, unit) for side in sides for unit in side.units))


def carried(unit: Unit, names: Iterable[str]) -> int:
    """How many pieces of the gear named the unit has: "2 machine guns" are two."""
    wanted = {_one(name) for name in names}
    return sum(_pieces(each, wanted) for each in unit.gear)


def _pieces(gear: str, wanted: set[str]) -> int:
    if _one(gear) in wanted:
        return 1
    match = SO_MANY.fullmatch(gear.strip())
    return int(match[1]) if match and _one(match[2]) in wanted else 0


def _one(gear: str) -> str:
    """The name of one of several, as far as an s at the end tells: rosters say "rifles" and "rifle"."""
    name = folded(gear)
    return name.removesuffix("s") if len(name) > SHORT else name


def _counts(need: Need, unit: Unit) -> bool:
    return (not need.classes or unit.unit_class in need.classes) and (not need.gear or carried(unit, need.gear) > 0)


def _rounded_up(need: Need, number: int) -> int:
    return -(-need.count * number // need.of)


def _once(need: Need, units: Sequence[Unit]) -> Counted:
    if (need.classes or need.gear) and not units:
        return Counted(count=0)
    count = _rounded_up(need, 1)
    for_whom = f", for {units[0].name}" if need.classes or need.gear else ""
    return Counted(count=count, why=(f"{count} for the {need.per}{for_whom}.",))


def _ratio(need: Need, number: int, noun: str) -> Counted:
    count = _rounded_up(need, number)
    if (need.count, need.of) == (1, 1):
        return Counted(count=count, why=(f"One for each of {_number(number, noun)}.",))
    return Counted(count=count, why=(f"{need.count} for {_every(need.of)} of {_number(number, noun)}: {count}.",))


def _likely(need: Need, units: int) -> Counted:
    count = _rounded_up(need, units)
    words = f"{_number(units, 'unit')}; usually {need.count} in use at once for {_every(need.of)}: {count}."
    return Counted(count=count, why=(words,))


def _by_gear(need: Need, units: Sequence[Unit]) -> Counted:
    count = _rounded_up(need, sum(carried(unit, need.gear) for unit in units))
    if not count:
        return Counted(count=0)
    who = ", ".join(dict.fromkeys(f"{unit.name} ({_carries(need, unit)})" for unit in units))
    so_many = "One" if need.count == 1 else str(need.count)
    return Counted(count=count, why=(f"{so_many} for {_every(need.of)}: {who}.",))


def _carries(need: Need, unit: Unit) -> str:
    return ", ".join(gear for gear in unit.gear if carried(replace(unit, gear=(gear,)), need.gear))


def _largest_pool(need: Need, units: Sequence[Unit]) -> Counted:
    """The most dice that one unit throws at once, and what makes them up."""
    pools = [(_rounded_up(need, unit.figures) + _added(need, unit), unit) for unit in units]
    if not pools:
        return Counted(count=0)
    dice, unit = max(pools, key=lambda pool: pool[0])
    if not dice:
        return Counted(count=0)
    own = _rounded_up(need, unit.figures)
    what = _carries(need, unit) if need.gear else _noun(unit.figures, "figure")
    parts = [f"{unit.figures} {what} roll {'together' if own == unit.figures else own}"] if own else []
    parts += [
        f"{each.gear} adds {each.count * number}" for each in need.extras if (number := carried(unit, [each.gear]))
    ]
    return Counted(count=dice, why=(f"{unit.name}: {', '.join(parts)}: {dice} dice.",))


def _added(need: Need, unit: Unit) -> int:
    return sum(each.count * carried(unit, [each.gear]) for each in need.extras)


def _number(number: int, noun: str) -> str:
    return f"{number} {_noun(number, noun)}"


def _noun(number: int, noun: str) -> str:
    return noun if number == 1 else f"{noun}s"


def _every(number: int) -> str:
    return "each" if number == 1 else f"every {number}"
