"""A game that is still open, as a way to share out points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from .flow import Split

Ways = tuple[tuple[int, int], ...]


@dataclass(frozen=True, kw_only=True)
class Open:
    """A game between `first` and `second`; `ways` are what each way to end gives them, none worse than another for
    both."""

    first: int
    second: int
    ways: Ways

    @cached_property
    def split(self) -> Split:
        """The game as if its points could be split at will: no way to end gives more than this."""
        return Split(
            first=self.first,
            second=self.second,
            together=max(a + b for a, b in self.ways),
            most_first=max(a for a, _ in self.ways),
            most_second=max(b for _, b in self.ways),
        )

    def most_for(self, one: int) -> int:
        return self.split.most_first if one == self.first else self.split.most_second

    def other(self, one: int) -> int:
        return self.second if one == self.first else self.first


def best_ways(ways: Sequence[tuple[int, int]]) -> Ways:
    """The ways to end that no other way equals or betters for both sides."""
    distinct = set(ways)
    return tuple(sorted(one for one in distinct if not any(a >= one[0] and b >= one[1] for a, b in distinct - {one})))
