"""A map document as values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from league.engines.maps import Faction, Map
from league.engines.supply import Force, Sending, Situation, Stock

__all__ = ["MapDocument"]


@dataclass(frozen=True, kw_only=True, slots=True)
class MapDocument:
    """A map, and the war upon it where there is one. `holders`: region -> faction, by key."""

    map: Map
    factions: tuple[Faction, ...] = ()
    holders: Mapping[str, str] = field(default_factory=dict)
    contested: tuple[str, ...] = ()
    stocks: tuple[Stock, ...] = ()
    forces: tuple[Force, ...] = ()
    sendings: tuple[Sending, ...] = ()

    @property
    def situation(self) -> Situation:
        """What the supply of this turn is reckoned from."""
        return Situation(
            map=self.map,
            factions=tuple(each.key for each in self.factions),
            holders=self.holders,
            stocks=self.stocks,
            forces=self.forces,
            contested=frozenset(self.contested),
            friends={
                one.key: frozenset(each.key for each in self.factions if each.side == one.side != "") - {one.key}
                for one in self.factions
            },
        )
