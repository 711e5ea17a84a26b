"""What a night says, by number: which use serves what, who owns what, what was packed by whom."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import Self

from league.engines.kit.model import Carrier, Night, Supply, Use


@dataclass(frozen=True, kw_only=True, slots=True)
class Facts:
    """Demands, uses, supplies and carriers of the night are meant by their place in it."""

    night: Night
    asked: dict[str, int]  # by demand key
    held: dict[str, int]  # by good
    supplies_of: dict[str, list[int]]  # by good
    uses_of: dict[tuple[str, str], list[int]]  # by table and good
    uses_for: dict[str, list[int]]  # by demand key
    carrier_of: list[int | None]  # by supply
    carried: list[tuple[int, Supply]]  # those that are not at the venue already
    supplies_by: list[list[int]]  # by carrier
    most_times: list[int]  # by use: more would be idle or impossible
    packed: dict[tuple[int, str], int]  # by supply and table, for those who have packed

    @classmethod
    def of(cls, night: Night) -> Self:
        """The facts of a night that is in order."""
        held: Counter[str] = Counter()
        supplies_of: defaultdict[str, list[int]] = defaultdict(list)
        for number, supply in enumerate(night.supplies):
            held[supply.good] += supply.count
            supplies_of[supply.good].append(number)
        uses_of: defaultdict[tuple[str, str], list[int]] = defaultdict(list)
        uses_for: defaultdict[str, list[int]] = defaultdict(list)
        for number, use in enumerate(night.uses):
            uses_of[use.table, use.good].append(number)
            for key, _ in use.covers:
                uses_for[key].append(number)
        people = {carrier.key: number for number, carrier in enumerate(night.carriers)}
        carrier_of = [None if supply.carrier is None else people[supply.carrier] for supply in night.supplies]
        supplies_by: list[list[int]] = [[] for _ in night.carriers]
        for number, owner in enumerate(carrier_of):
            if owner is not None:
                supplies_by[owner].append(number)
        asked = {demand.key: demand.count for demand in night.demands}
        return cls(
            night=night,
            asked=asked,
            held=dict(held),
            supplies_of=dict(supplies_of),
            uses_of=dict(uses_of),
            uses_for=dict(uses_for),
            carrier_of=carrier_of,
            carried=[(at, supply) for at, supply in enumerate(night.supplies) if supply.carrier is not None],
            supplies_by=supplies_by,
            most_times=[_most_times(use, asked, held[use.good]) for use in night.uses],
            packed=_packed(night),
        )

    def carrier(self, supply: int) -> Carrier | None:
        number = self.carrier_of[supply]
        return None if number is None else self.night.carriers[number]

    def plays(self, supply: int, table: str) -> bool:
        """Whether the one who brings it plays there."""
        carrier = self.carrier(supply)
        return carrier is not None and table in carrier.tables

    def has_packed(self, supply: int) -> bool:
        carrier = self.carrier(supply)
        return carrier is not None and carrier.has_packed

    def most_pieces(self, table: str, good: str) -> int:
        """More pieces of a good than this no table can use."""
        return sum(self.night.uses[use].takes * self.most_times[use] for use in self.uses_of.get((table, good), ()))


def _most_times(use: Use, asked: dict[str, int], held: int) -> int:
    return min(max(-(-asked[key] // pieces) for key, pieces in use.covers), held // use.takes)


def _packed(night: Night) -> dict[tuple[int, str], int]:
    packers = {carrier.key for carrier in night.carriers if carrier.has_packed}
    numbers = {supply.key: number for number, supply in enumerate(night.supplies) if supply.carrier in packers}
    return {(numbers[each.supply], each.table): each.count for each in night.packed if each.supply in numbers}
