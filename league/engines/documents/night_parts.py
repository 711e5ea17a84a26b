"""What a night document holds, as frozen values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from league.engines.kit.model import Carrier, Packed
from league.engines.kit.needs import Asked, Game
from league.engines.kit.night import Holding
from league.engines.kit.offers import Offer
from league.engines.rulesets import Ruleset

__all__ = ["NightDocument", "NightTable"]


@dataclass(frozen=True, kw_only=True, slots=True)
class NightTable:
    """A table with the game that is played there, by the ruleset of that key, and with `needs` told outright."""

    id: str
    name: str
    ruleset: str = ""
    game: Game | None = None
    needs: tuple[Asked, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class NightDocument:
    """A night: what is played, who comes, who has what, what is packed already, and what could be bought for how much."""

    name: str
    club: str = ""
    on: date | None = None
    rulesets: Mapping[str, Ruleset]
    tables: tuple[NightTable, ...]
    people: tuple[Carrier, ...] = ()
    holdings: tuple[Holding, ...] = ()
    packed: tuple[Packed, ...] = ()
    offers: tuple[Offer, ...] = ()
    budget_pence: int | None = None
