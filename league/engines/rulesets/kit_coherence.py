"""What the `kit` part of a ruleset must agree on with itself and with the rest."""

from __future__ import annotations

from collections.abc import Iterator

from league.engines.rulesets.kit import Need, Wanted
from league.engines.rulesets.model import Ruleset
from league.engines.rulesets.saying import Incoherence, fault, twice, unknown
from league.engines.rulesets.violation import gettext_noop

__all__ = ["kit_incoherences"]


def kit_incoherences(ruleset: Ruleset) -> Iterator[Incoherence]:
    kit = ruleset.kit
    yield from twice((each.key for each in kit.needs), "kit.needs[{}].key")
    for index, need in enumerate(kit.needs):
        place = f"kit.needs[{index}]"
        yield from _need(need, place)
        yield from _wanted(need.wanted, f"{place}.wanted")
        for number, key in enumerate(need.classes):
            yield from unknown(key, ruleset.unit_classes, "unit_classes", f"{place}.classes[{number}]")
        for number, key in enumerate(need.scenarios):
            yield from unknown(key, ruleset.scenarios, "scenarios", f"{place}.scenarios[{number}]")
        yield from twice(need.classes, f"{place}.classes[{{}}]")
        yield from twice(need.scenarios, f"{place}.scenarios[{{}}]")
    for index, stand_in in enumerate(kit.stand_ins):
        yield from unknown(stand_in.need, kit.needs, "kit.needs", f"kit.stand_ins[{index}].need")
        yield from _wanted(stand_in.piece, f"kit.stand_ins[{index}].piece")


def _need(need: Need, place: str) -> Iterator[Incoherence]:
    if need.per == "gear" and not need.gear:
        words = gettext_noop("A need for each piece of gear must name the gear.")
        yield fault("gear_without_name", words, f"{place}.gear", f"{place}.per")
    if need.extras and need.per != "pool":
        words = gettext_noop("Only a pool of dice is added to by gear.")
        yield fault("extras_without_pool", words, f"{place}.extras", f"{place}.per")
    if need.count == 0 and not need.extras:
        words = gettext_noop("This need asks for nothing.")
        yield fault("asks_for_nothing", words, f"{place}.count", f"{place}.count", f"{place}.extras")
    if need.per == "table" and need.sharing != "shared":
        words = gettext_noop("What is asked for once a table is shared by the sides.")
        yield fault("table_not_shared", words, f"{place}.sharing", f"{place}.per")
    if need.sharing == "apart" and need.wanted.colour:
        words = gettext_noop("What must all be %(colour)s cannot be told apart by colour.")
        colour = f"{place}.wanted.colour"
        yield fault("apart_in_one_colour", words, f"{place}.sharing", colour, colour=need.wanted.colour)


def _wanted(wanted: Wanted, place: str) -> Iterator[Incoherence]:
    if wanted.sides is not None and wanted.category != "die":
        words = gettext_noop("Only a die has sides to count.")
        yield fault("sides_without_die", words, f"{place}.sides", f"{place}.category")
    if wanted.depth_mm is not None and wanted.size_mm is None:
        words = gettext_noop("Say the first side before the second.")
        yield fault("depth_without_size", words, f"{place}.depth_mm", f"{place}.size_mm")
