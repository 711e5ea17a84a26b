"""What happened in a turn, in plain sentences, out of what a viewer may know of it (`league.engines.war.fog`).

A sentence is a message and its values, so that whoever shows it can translate it; `text` is the English. Every fact a
fold can note (`state.Change`) has its sentence here, and a test holds the two together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from league.engines.war.fog import View
from league.engines.war.model import Campaign
from league.engines.war.state import Change
from league.engines.war.words import words_of

__all__ = ["CHAPTER_OF", "Chapter", "Sentence", "sentences"]

Chapter = Literal["orders", "supply", "battles", "aftermath", "umpire"]
HUNDRED = 100


@dataclass(frozen=True, kw_only=True, slots=True)
class Sentence:
    """`message` is the English with its places, `plural` the same for a `count` other than one, where there is one.

    `args` are names and numbers, ready to be shown; `because` are the facts it rests on.
    """

    chapter: Chapter
    what: str
    message: str
    plural: str = ""
    count: int | None = None
    args: Mapping[str, str | int] = field(default_factory=dict, hash=False)
    region: str = ""
    faction: str = ""
    force: str = ""
    because: tuple[int | str, ...] = ()

    @property
    def text(self) -> str:
        one = self.count is None or self.count == 1 or not self.plural
        return (self.message if one else self.plural) % self.args


CHAPTER_OF: Mapping[str, Chapter] = {
    **dict.fromkeys(("moved", "stopped", "dug_in", "order_failed", "raised", "placed"), "orders"),
    **dict.fromkeys(
        ("supplied", "short", "cut_off", "sent", "depot_built", "depot_not_built", "stock_spoilt", "hunger"), "supply"
    ),
    **dict.fromkeys(
        (
            "battle_begins",
            "battle_goes_on",
            "battle_on_road",
            "battle_won",
            "battle_drawn",
            "battle_conceded",
            "battle_simulated",
            "postponed",
            "not_fought",
            "casualties",
            "supply_fought",
            "fought_outside",
        ),
        "battles",
    ),
    **dict.fromkeys(
        (
            "retreated",
            "surrendered",
            "force_destroyed",
            "advanced",
            "region_taken",
            "stock_captured",
            "rebuilt",
            "not_rebuilt",
            "points",
            "war_over",
        ),
        "aftermath",
    ),
    **dict.fromkeys(
        (
            "ruling",
            "settlement",
            "map_edited",
            "removed",
            "depot_added",
            "depot_dropped",
            "stock_settled",
            "points_awarded",
            "control_ruled",
            "effect_failed",
            "unknown_battle",
            "battle_told_twice",
            "force_not_there",
        ),
        "umpire",
    ),
}


def sentences(campaign: Campaign, seen: View) -> tuple[Sentence, ...]:
    """A turn's changes as `seen`, in the order in which they happened."""
    teller = _Teller(campaign, seen)
    return tuple(teller.tell(each) for each in seen.changes)


class _Teller:
    def __init__(self, campaign: Campaign, seen: View) -> None:
        self.factions = {each.key: each.name for each in campaign.factions}
        self.regions = {each.key: each.name for each in (*campaign.map.regions, *seen.map.regions)}
        self.forces = {each.key: each.name for each in campaign.forces} | {
            key: each.name for key, each in seen.forces.items()
        }

    def tell(self, change: Change) -> Sentence:
        message, plural, count = words_of(change)
        return Sentence(
            chapter=CHAPTER_OF.get(change.what, "umpire"),
            what=change.what,
            message=message,
            plural=plural,
            count=count,
            args=self._args(change),
            region=change.region,
            faction=change.faction,
            force=change.force,
            because=change.because,
        )

    def _args(self, change: Change) -> dict[str, str | int]:
        told: dict[str, str | int] = {
            "region": self.regions.get(change.region, change.region),
            "faction": self.factions.get(change.faction, change.faction),
            "force": self.forces.get(change.force or str(change.args.get("force", "")), change.force),
        }
        for name, value in change.args.items():
            told |= self._shown(name, value)
        if change.what == "order_failed":
            told["message"] = str(change.args["message"]) % dict(change.args["values"])
        return told

    def _shown(self, name: str, value: Any) -> dict[str, str | int]:
        if name in ("origin", "to"):
            return {name: self.regions.get(value, str(value))}
        if name in ("factions", "losers", "winners"):
            return {name: _listed([self.factions.get(each, each) for each in value])}
        if name in ("loser", "winner"):
            return {name: self.factions.get(value, str(value))}
        if name.endswith("_x100"):
            return {name.removesuffix("_x100"): _loads(value)}
        if name in ("force", "values", "message", "way"):
            return {}
        return {name: value if isinstance(value, int) else str(value)}


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names)


def _loads(amount_x100: int) -> str:
    whole, part = divmod(abs(amount_x100), HUNDRED)
    text = f"{whole}.{part:02}".rstrip("0").rstrip(".") if part else str(whole)
    return f"-{text}" if amount_x100 < 0 else text
