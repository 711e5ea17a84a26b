"""Counts that prove a shortfall, added up again from the night alone, without the programme they came from."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import Self

from league.engines.kit.model import Night, Use

from .model import Count

__all__ = ["Tally", "count_holds"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Tally:
    """A night by what counts are about: pieces asked for and the uses that can meet them, by demand; pieces held, by good.

    Made once for all the counts of a night.
    """

    asked: dict[str, int]
    held: Counter[str]
    uses_for: dict[str, list[Use]]

    @classmethod
    def of(cls, night: Night) -> Self:
        held: Counter[str] = Counter()
        for supply in night.supplies:
            held[supply.good] += supply.count
        uses_for: defaultdict[str, list[Use]] = defaultdict(list)
        for use in night.uses:
            for key, _pieces in use.covers:
                uses_for[key].append(use)
        return cls(asked={demand.key: demand.count for demand in night.demands}, held=held, uses_for=dict(uses_for))

    def holds(self, count: Count) -> bool:
        """Whether a count is right: nothing but its goods can serve its demands, and they meet no more."""
        within = set(count.demands)
        best: defaultdict[str, set[tuple[int, int]]] = defaultdict(set)
        for demand in within:
            for use in self.uses_for.get(demand, ()):
                best[use.good].add((sum(pieces for key, pieces in use.covers if key in within), use.takes))
        goods = {each.good for each in count.goods}
        if not set(best) <= goods or len(goods) != len(count.goods):
            return False
        for each in count.goods:
            held = self.held[each.good]
            # Every use meets at most `meets / held` pieces for one it takes.
            if held != each.held or any(pieces * held >= takes * (each.meets + 1) for pieces, takes in best[each.good]):
                return False
        asked, meets = sum(self.asked.get(key, 0) for key in within), sum(each.meets for each in count.goods)
        return (asked, meets, asked - meets) == (count.asked, count.meets, count.missing)


def count_holds(night: Night, count: Count) -> bool:
    """Whether one count is right for a night; see `Tally.holds`."""
    return Tally.of(night).holds(count)
