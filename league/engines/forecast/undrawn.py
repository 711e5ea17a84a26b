"""What rounds that are not drawn yet can bring, when anybody may meet anybody in them, even twice."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import Final

from .games import Open
from .model import Outlook

# More rounds than any season has, and still a number that can be added up.
NEVER: Final = 1_000_000


@dataclass(frozen=True, kw_only=True)
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

    def built(self, needs: Sequence[int], games: Sequence[Open]) -> int:
        """So many can have their needs met, by open `games` and undrawn rounds: a season is put together in which
        they have.

        In some of the rounds everybody draws but the opponent of `one`. In the others, one of every pair is favoured;
        who needs that in w rounds can be given it if no w is more than these rounds and all together no more than
        their pairs (the wrap-around rule of R. McNaughton, 1959, for machines, from memory). Entrants are taken in as
        long as that holds, those who need least first.
        """
        if not self._fits_own():
            return 0
        drawn = self._drawn
        splits = range(self._rounds + 1) if drawn is not None else [0]
        return max(
            self._taken_in(self._less(needs, split * (drawn or 0)), games, self._rounds - split) for split in splits
        )

    def _taken_in(self, needs: Sequence[int], games: Sequence[Open], rounds: int) -> int:
        order = sorted((each for each in range(len(needs)) if each != self.one), key=lambda each: (needs[each], each))
        # Mostly the first so many can all be taken in and nobody else, so that many are looked for by halves.
        first = bisect_left(
            range(1, len(order) + 1), x=True, key=lambda size: not self._have_enough(order[:size], needs, games, rounds)
        )
        inside = order[:first]
        for other in order[first:]:
            if self._have_enough([*inside, other], needs, games, rounds):
                inside.append(other)
        return len(inside)

    def _have_enough(self, inside: Sequence[int], needs: Sequence[int], games: Sequence[Open], rounds: int) -> bool:
        """Gives every game to whom it helps most, and what is lacking then to the rounds. Not always the best way,
        so False only says that this way does not do."""
        left = {other: needs[other] for other in inside}
        for game in games:
            first, second = game.first, game.second
            _, a, b = min(
                (
                    self._times(left.get(first, 0) - a, first, rounds)
                    + self._times(left.get(second, 0) - b, second, rounds),
                    -a,
                    -b,
                )
                for a, b in game.ways
            )
            left |= {one: left[one] + gain for one, gain in ((first, a), (second, b)) if one in left}
        times = [self._times(need, other, rounds) for other, need in left.items()]
        return sum(times) <= rounds * self._pairs and all(time <= rounds for time in times)

    def _times(self, need: int, other: int, rounds: int) -> int:
        """In how many rounds this one must be favoured; more than there are if that does not do."""
        favoured, unfavoured = self._favoured
        if self.outlook.active[other]:
            need -= rounds * unfavoured
        if need <= 0:
            return 0
        step = favoured - unfavoured
        times = -(-need // step) if step > 0 and self.outlook.active[other] else NEVER
        return times if times <= rounds else NEVER

    @cached_property
    def _favoured(self) -> tuple[int, int]:
        """What the favoured of a pair gets, and what is left to the other, or to the one with the bye."""
        favoured = max(a for a, _ in self._ways)
        other = max(b for a, b in self._ways if a == favoured)
        return favoured, min(other, self._bye) if self._odd else other

    @cached_property
    def _drawn(self) -> int | None:
        """What a round gives everybody at least in which all pairs draw; None where no game can be drawn so."""
        draws = [
            min(self.sign * result.first_x2, self.sign * result.second_x2)
            for result in self.outlook.results
            if result.outcome == "draw"
        ]
        return min(max(draws), self._favoured[0], *([self._bye] if self._odd else [])) if draws else None

    def _fits_own(self) -> bool:
        """Whether who meets `one` can be favoured while `one` has what `own_points` says."""
        return not self.outlook.active[self.one] or (self._favoured[0], min(self._amounts)) in self._ways

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

    @cached_property
    def _rounds(self) -> int:
        return self.outlook.rounds_to_draw if self._pairs else 0

    @cached_property
    def _pairs(self) -> int:
        return int(self.outlook.active.sum()) // 2

    @cached_property
    def _odd(self) -> bool:
        return int(self.outlook.active.sum()) % 2 == 1

    @cached_property
    def _bye(self) -> int:
        return self.sign * self.outlook.bye_x2

    @cached_property
    def _ways(self) -> set[tuple[int, int]]:
        return {(self.sign * result.first_x2, self.sign * result.second_x2) for result in self.outlook.results}

    @cached_property
    def _amounts(self) -> list[int]:
        """All that a round can give to one who is in it."""
        return [*(a for a, _ in self._ways), *([self._bye] if self._odd else [])]
