"""The `kit` part of a ruleset as its document has it.

Unlike the rest of a ruleset it leaves out what says nothing: a ruleset of before there was such a part is written as it
always was, and most of a thing's attributes concern few things.
"""

from __future__ import annotations

from typing import Any

from league.engines.rulesets.kit import Kit, Need, StandIn, Wanted
from league.engines.rulesets.kit_parse import usual_sharing

__all__ = ["stand_in_to_document", "wanted_to_document", "write_kit"]


def write_kit(kit: Kit) -> dict[str, Any]:
    """Empty if the ruleset asks for nothing."""
    return said(
        scale_mm=(kit.scale_mm, None),
        scale_tolerance_mm=(kit.scale_tolerance_mm, 0),
        needs=([_need(each) for each in kit.needs], []),
        stand_ins=([stand_in_to_document(each) for each in kit.stand_ins], []),
    )


def wanted_to_document(wanted: Wanted) -> dict[str, Any]:
    return {"category": wanted.category} | said(
        use=(wanted.use, ""),
        sides=(wanted.sides, None),
        size_mm=(wanted.size_mm, None),
        depth_mm=(wanted.depth_mm, None),
        tolerance_mm=(wanted.tolerance_mm, 1),
        scale_mm=(wanted.scale_mm, None),
        scale_tolerance_mm=(wanted.scale_tolerance_mm, 0),
        colour=(wanted.colour, ""),
    )


def _need(need: Need) -> dict[str, Any]:
    return {
        "key": need.key,
        "name": need.name,
        "wanted": wanted_to_document(need.wanted),
        "per": need.per,
    } | said(
        count=(need.count, 1),
        of=(need.of, 1),
        sharing=(need.sharing, usual_sharing(need.per)),
        gear=(list(need.gear), []),
        extras=([{"gear": each.gear, "count": each.count} for each in need.extras], []),
        most=(need.most, None),
        spare=(need.spare, 0),
        importance=(need.importance, "needed"),
        make=(need.make, ""),
        classes=(list(need.classes), []),
        scenarios=(list(need.scenarios), []),
    )


def stand_in_to_document(stand_in: StandIn) -> dict[str, Any]:
    return {"need": stand_in.need, "piece": wanted_to_document(stand_in.piece)} | said(
        takes=(stand_in.takes, 1),
        covers=(stand_in.covers, 1),
        rank=(stand_in.rank, 1),
        loss=(stand_in.loss, 0),
        at_home=(stand_in.at_home, False),
        note=(stand_in.note, ""),
    )


def said(**fields: tuple[Any, Any]) -> dict[str, Any]:
    """Of fields with their values and the usual values, those that differ."""
    return {name: value for name, (value, usual) in fields.items() if value != usual}
