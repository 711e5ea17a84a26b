"""What rounds that are not drawn yet can bring, when anybody may meet anybody in them, even twice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from .model import Outlook


@dataclass(frozen=True, kw_only=True, slots=True)
class Undrawn:
    """The undrawn rounds as they look to `one`. `sign` 1: the others are to gain; -1: they are to be held back.

    Amounts are half-points times the sign, so that more of it is always what is wanted, as in `most_satisfied`.
    Needs are lists with an entry for everybody; that of `one` is left alone.
    """

    outlook: Outlook
    one: int
    sign: int

    @property
    def own_points(self) -> int:
        """The half-points `one` makes of these rounds: the fewest while others are to gain, else the most."""
        return self.sign * self._rounds * min(self._amounts) if self.outlook.active[self.one] else 0

    def at_best(self, needs: Sequence[int]) -> list[int]:
        """The needs that are left if every round gave everybody all they want."""
        return self._less(needs, self._rounds * max(self._amounts))

    def at_worst(self, needs: Sequence[int]) -> list[int]:
        """The needs that are left if every round gave everybody the least."""
        return self._less(needs, self._rounds * min(self._amounts))

    def most(self, needs: Sequence[int]) -> int:
        """No more than this many can have their needs met by these rounds: they give only so much in all."""
        least = min(self._amounts)
        most_of_two = max(a + b - 2 * least for a, b in self._ways)
        a_round = self._pairs * most_of_two
        if self.outlook.active[self.one]:  # who meets `one` gets all they can, and `one` the least
            a_round += max(self._amounts) - least - most_of_two
        if self._odd:
            a_round += self._bye - least
        wanted = sorted(max(0, need) for need in self._others(self.at_worst(needs)))
        return sum(1 for total in accumulate(wanted) if total <= self._rounds * a_round)

    def built(self, needs: Sequence[int]) -> int:
        """So many can have their needs met: a season is put together in which they have.

        Either one of every pair is favoured in every round, and who needs that in w of the rounds can be given it if
        no w is more than the rounds and all together no more than the pairs of all rounds (R. McNaughton's rule for
        machines, 1959); or everybody but the opponent of `one` draws every time.
        """
        return max(self._with_favourites(needs), self._all_drawn(needs))

    def _with_favourites(self, needs: Sequence[int]) -> int:
        favoured = max(a for a, _ in self._ways)
        other = max(b for a, b in self._ways if a == favoured)
        if not self._fits_own(favoured):
            return 0
        if self._odd:
            other = min(other, self._bye)
        left = self._others(self._less(needs, self._rounds * other))
        step = favoured - other
        if step <= 0:
            return sum(1 for need in left if need <= 0)
        times = sorted(-(-max(0, need) // step) for need in left)
        totals = accumulate(t for t in times if t <= self._rounds)
        return sum(1 for total in totals if total <= self._rounds * self._pairs)

    def _all_drawn(self, needs: Sequence[int]) -> int:
        drawn = [
            min(self.sign * result.first_x2, self.sign * result.second_x2)
            for result in self.outlook.results
            if result.outcome == "draw"
        ]
        favoured = max(a for a, _ in self._ways)
        if not drawn or not self._fits_own(favoured):
            return 0
        amount = min(max(drawn), favoured, *([self._bye] if self._odd else []))
        return sum(1 for need in self._others(self._less(needs, self._rounds * amount)) if need <= 0)

    def _fits_own(self, favoured: int) -> bool:
        """Whether who meets `one` can be favoured while `one` has what `own_points` says."""
        return not self.outlook.active[self.one] or (favoured, min(self._amounts)) in self._ways

    def _less(self, needs: Sequence[int], amount: int) -> list[int]:
        return [
            need - amount if self.outlook.active[other] and other != self.one else need
            for other, need in enumerate(needs)
        ]

    def _others(self, needs: Sequence[int]) -> list[int]:
        """Without `one`, and without those who still need something and do not play these rounds."""
        return [
            need for other, need in enumerate(needs) if other != self.one and (need <= 0 or self.outlook.active[other])
        ]

    @property
    def _rounds(self) -> int:
        return self.outlook.rounds_to_draw if self._pairs else 0

    @property
    def _pairs(self) -> int:
        return int(self.outlook.active.sum()) // 2

    @property
    def _odd(self) -> bool:
        return int(self.outlook.active.sum()) % 2 == 1

    @property
    def _bye(self) -> int:
        return self.sign * self.outlook.bye_x2

    @property
    def _ways(self) -> set[tuple[int, int]]:
        return {(self.sign * result.first_x2, self.sign * result.second_x2) for result in self.outlook.results}

    @property
    def _amounts(self) -> list[int]:
        """All that a round can give to one who is in it."""
        return [*(a for a, _ in self._ways), *([self._bye] if self._odd else [])]
